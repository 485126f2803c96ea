package comebackledger.code;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * The content of a DM1 or DM2 (SAE J1939-73, layout from memory): two lamp bytes, then four bytes a code; what is left over is filled with ones.
 *
 * @param cutAt the byte at which a code begins that is not whole; the codes before it are
 */
public record DmMessage(Optional<DmLamps> lamps, List<DmCode> codes, Optional<Integer> cutAt) {
    static final String CUT = "The message ends inside a code. It has two lamp bytes and then four bytes for each code.";

    /** What the message says, and the codes of one sender at one moment. */
    static DmMessage decode(byte[] data) {
        if (data.length < 2) {
            return new DmMessage(Optional.empty(), List.of(), Optional.of(0));
        }
        List<DmCode> codes = new ArrayList<>();
        int at = 2;
        for (; at + 4 <= data.length; at += 4) {
            DmCode.of(data[at] & 0xFF, data[at + 1] & 0xFF, data[at + 2] & 0xFF, data[at + 3] & 0xFF).ifPresent(codes::add);
        }
        return new DmMessage(Optional.of(new DmLamps(data[0] & 0xFF)), List.copyOf(codes),
                isFill(data, at) ? Optional.empty() : Optional.of(at));
    }

    private static boolean isFill(byte[] data, int from) {
        for (int i = from; i < data.length; i++) {
            if (data[i] != (byte) 0xFF) {
                return false;
            }
        }
        return true;
    }

    /** One message by itself, as hexadecimal text; spaces count for nothing. */
    public static CodeReport read(DmKind kind, String bytes, OptionalInt sourceAddress) {
        Hex hex = Hex.read(bytes, " \t\r\n");
        if (hex.fault().isPresent()) {
            return CodeReport.rejected(Rejection.at(hex.at(), hex.fault().get(), Hex.detail(hex.fault().get())));
        }
        DmMessage message = decode(hex.bytes());
        CodeReport.Builder report = new CodeReport.Builder(Limits.DEFAULT);
        SenderCodes senders = new SenderCodes(Limits.DEFAULT);
        senders.add(new SenderCodes.Sender(Optional.empty(), sourceAddress), kind, message);
        senders.into(report);
        message.cutAt().ifPresent(at -> report.reject(Rejection.at(at, Why.LENGTH, CUT)));
        return report.build();
    }
}
