package comebackledger.code;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * Answers of SAE J1979 on CAN to services 03 (confirmed, here stored), 07 (pending) and 0A (permanent): service + 40, the number of codes, then
 * two bytes a code. Layout from memory of the standard. A count that disagrees with the bytes spoils the whole answer: it cannot be told
 * which of the two is wrong.
 */
public final class ObdResponse {
    private static final int POSITIVE = 0x40;

    private ObdResponse() {}

    /** Frames {@code identifier#data}, several modules interleaved; places are frames from 0. */
    public static CodeReport readFrames(List<String> frames) {
        return DiagnosticAnswer.readFrames(frames, ObdResponse::decode);
    }

    /** One answer without its framing, as hexadecimal text; places are bytes from 0. */
    public static CodeReport read(String bytes, Optional<String> identifier, OptionalInt sourceAddress) {
        return DiagnosticAnswer.readPayload(bytes, identifier, sourceAddress, ObdResponse::decode);
    }

    private static void decode(byte[] payload, DiagnosticAnswer.Sender sender, CodeReport.Builder report) {
        if (DiagnosticAnswer.isRefused(payload, sender, report)) {
            return;
        }
        Optional<CodeState> state = payload.length == 0 ? Optional.empty() : state(payload[0] & 0xFF);
        if (state.isEmpty()) {
            report.reject(sender.reject(0, Why.SERVICE, "Only answers to services 03, 07 and 0A hold codes: they begin with 43, 47 or 4A."));
            return;
        }
        if (payload.length < 2 || payload.length != 2 + 2 * (payload[1] & 0xFF)) {
            report.reject(sender.reject(Math.min(1, payload.length), Why.LENGTH,
                    String.format(Locale.ROOT, "The answer has %d bytes; it needs a count, and two bytes for each code counted.", payload.length)));
            return;
        }
        for (int i = 2; i < payload.length; i += 2) {
            J2012Code code = J2012Code.ofTwoBytes((payload[i] & 0xFF) << 8 | payload[i + 1] & 0xFF);
            if (!code.isUnused()) {
                report.code(SeenCode.answered(code, state, sender.sourceAddress(), sender.ecu()));
            }
        }
    }

    private static Optional<CodeState> state(int service) {
        return switch (service) {
            case POSITIVE | 0x03 -> Optional.of(CodeState.STORED);
            case POSITIVE | 0x07 -> Optional.of(CodeState.PENDING);
            case POSITIVE | 0x0A -> Optional.of(CodeState.PERMANENT);
            default -> Optional.empty();
        };
    }
}
