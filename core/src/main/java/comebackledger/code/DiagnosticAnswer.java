package comebackledger.code;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/** What the diagnostic answers of ISO 14229 and SAE J1979 share: a service byte, its refusal, and how they travel. */
final class DiagnosticAnswer {
    private static final int REFUSAL = 0x7F;
    private static final int STILL_WORKING = 0x78; // the answer will follow, ISO 14229-1 (from memory)
    private static final int LOOK_AHEAD = 256; // answers; keeps the reading linear

    /** Reads one whole payload into a report; what it rejects stands at a byte of that payload. */
    interface Decoder {
        void decode(byte[] payload, Sender sender, CodeReport.Builder report);
    }

    /** @param frameAt the frame the payload began in, where it came in frames: rejections stand there */
    record Sender(Optional<String> ecu, OptionalInt sourceAddress, OptionalInt frameAt) {
        Rejection reject(int byteAt, Why why, String detail) {
            return Rejection.at(frameAt.orElse(byteAt), why, detail);
        }
    }

    private DiagnosticAnswer() {}

    static CodeReport readFrames(List<String> frames, Decoder decoder) {
        CodeReport.Builder report = new CodeReport.Builder(Limits.DEFAULT);
        List<IsoTransport.Answer> answers = IsoTransport.read(frames, Limits.DEFAULT, report);
        for (int i = 0; i < answers.size(); i++) {
            IsoTransport.Answer answer = answers.get(i);
            if (!isStillWorking(answer.payload()) || !followed(answers, i)) {
                decoder.decode(answer.payload(),
                        new Sender(Optional.of(answer.identifier()), address(answer.identifier()), OptionalInt.of(answer.at())),
                        report);
            }
        }
        return report.build();
    }

    static CodeReport readPayload(String bytes, Optional<String> identifier, OptionalInt sourceAddress, Decoder decoder) {
        Hex hex = Hex.read(bytes, " \t\r\n");
        if (hex.fault().isPresent()) {
            return CodeReport.rejected(Rejection.at(hex.at(), hex.fault().get(), Hex.detail(hex.fault().get())));
        }
        CodeReport.Builder report = new CodeReport.Builder(Limits.DEFAULT);
        OptionalInt address = sourceAddress.isPresent() ? sourceAddress : identifier.map(DiagnosticAnswer::address).orElse(OptionalInt.empty());
        decoder.decode(hex.bytes(), new Sender(identifier, address, OptionalInt.empty()), report);
        return report.build();
    }

    /** True if the payload is a refusal, which is then rejected. */
    static boolean isRefused(byte[] payload, Sender sender, CodeReport.Builder report) {
        boolean refused = payload.length > 0 && (payload[0] & 0xFF) == REFUSAL;
        if (refused) {
            report.reject(sender.reject(0, Why.NEGATIVE_RESPONSE, "The module refuses the request" + reason(payload) + "."));
        }
        return refused;
    }

    /** Response codes of ISO 14229-1, from memory, own wording. */
    private static String reason(byte[] payload) {
        return payload.length < 3 ? "" : switch (payload[2] & 0xFF) {
            case 0x10 -> ": in general";
            case 0x11 -> ": it does not know the service";
            case 0x12 -> ": it does not know this form of the service";
            case 0x13 -> ": the length or form of the request is wrong";
            case 0x21 -> ": it is busy, repeat the request";
            case 0x22 -> ": conditions are not right";
            case 0x31 -> ": the request is out of range";
            case 0x33 -> ": access is locked";
            case STILL_WORKING -> ": it asks to wait, and no answer followed";
            case 0x7E, 0x7F -> ": not in the present session";
            default -> "";
        };
    }

    private static boolean isStillWorking(byte[] payload) {
        return payload.length == 3 && (payload[0] & 0xFF) == REFUSAL && (payload[2] & 0xFF) == STILL_WORKING;
    }

    /** Whether another answer of the same sender follows soon. */
    private static boolean followed(List<IsoTransport.Answer> answers, int index) {
        return answers.subList(index + 1, Math.min(answers.size(), index + 1 + LOOK_AHEAD)).stream()
                .anyMatch(answer -> answer.identifier().equals(answers.get(index).identifier()));
    }

    /** The sender of a 29-bit diagnostic answer, 18DAF1xx; an 11-bit identifier has none. */
    private static OptionalInt address(String identifier) {
        return identifier.length() == 8 && Hex.isHex(identifier, 6, 8)
                ? OptionalInt.of(Integer.parseInt(identifier.substring(6), 16))
                : OptionalInt.empty();
    }
}
