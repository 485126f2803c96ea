package comebackledger.code;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * Answers of ISO 14229-1, ReadDTCInformation, forms 02 (by status mask), 06 (extended records of one code) and 0A (supported codes):
 * <pre>
 *   59 02 mask (code code type status)*      59 0A mask (code code type status)*      59 06 code code type status [record data..]
 * </pre>
 * The mask holds the status bits that the server supports. A record's data is the maker's and is passed over.
 */
public final class UdsResponse {
    private static final int READ_CODES = 0x59;
    private static final int BY_STATUS_MASK = 0x02;
    private static final int EXTENDED = 0x06;
    private static final int SUPPORTED = 0x0A;
    private static final int EVERY_BIT = 0xFF;

    private UdsResponse() {}

    /** One answer without its framing, as hexadecimal text, the codes as one sender's; places are bytes from 0. */
    public static CodeReport report(String bytes, Optional<String> identifier, OptionalInt sourceAddress) {
        return DiagnosticAnswer.readPayload(bytes, identifier, sourceAddress, UdsResponse::into);
    }

    /** Frames {@code identifier#data} of ISO 15765-2, several modules interleaved; places are frames from 0. */
    public static CodeReport readFrames(List<String> frames) {
        return DiagnosticAnswer.readFrames(frames, UdsResponse::into);
    }

    private static void into(byte[] payload, DiagnosticAnswer.Sender sender, CodeReport.Builder report) {
        if (DiagnosticAnswer.isRefused(payload, sender, report)) {
            return;
        }
        if (payload.length == 0 || (payload[0] & 0xFF) != READ_CODES) {
            report.reject(sender.reject(0, Why.SERVICE, "Only an answer to service 19 holds codes: it begins with 59."));
        } else if (payload.length == 1) {
            report.reject(sender.reject(1, Why.LENGTH, "The answer ends before it says its form (02, 06 or 0A)."));
        } else {
            switch (payload[1] & 0xFF) {
                case BY_STATUS_MASK, SUPPORTED -> records(payload, sender, report);
                case EXTENDED -> extended(payload, sender, report);
                default -> report.reject(sender.reject(1, Why.SERVICE, "Of service 19, forms 02, 06 and 0A are read here."));
            }
        }
    }

    private static void records(byte[] payload, DiagnosticAnswer.Sender sender, CodeReport.Builder report) {
        if (payload.length == 2) {
            report.reject(sender.reject(2, Why.LENGTH, "The answer ends before the mask of supported status bits."));
            return;
        }
        int at = 3;
        for (; at + 4 <= payload.length; at += 4) {
            add(payload, at, payload[2] & 0xFF, sender, report);
        }
        if (at != payload.length) {
            report.reject(sender.reject(at, Why.LENGTH, "The answer ends inside a record; each has three bytes of code and one of status."));
        }
    }

    private static void extended(byte[] payload, DiagnosticAnswer.Sender sender, CodeReport.Builder report) {
        if (payload.length < 6) {
            report.reject(sender.reject(2, Why.LENGTH, "The answer ends inside its code; it has three bytes of code and one of status."));
        } else {
            add(payload, 2, EVERY_BIT, sender, report);
        }
    }

    private static void add(byte[] payload, int at, int supported, DiagnosticAnswer.Sender sender, CodeReport.Builder report) {
        J2012Code code = J2012Code.ofThreeBytes((payload[at] & 0xFF) << 16 | (payload[at + 1] & 0xFF) << 8 | payload[at + 2] & 0xFF);
        if (!code.isUnused()) {
            report.code(SeenCode.answered(code, new UdsStatus(payload[at + 3] & supported).state(), sender.sourceAddress(), sender.ecu()));
        }
    }
}
