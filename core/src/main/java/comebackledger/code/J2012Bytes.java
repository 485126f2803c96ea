package comebackledger.code;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/** One SAE J2012 code as hexadecimal text: two bytes, or three with the failure type. */
public final class J2012Bytes {
    private J2012Bytes() {}

    /** Spaces count for nothing; the all-zero code is an unused slot and gives none. */
    public static CodeReport read(String bytes, OptionalInt sourceAddress) {
        Hex hex = Hex.read(bytes, " \t\r\n");
        if (hex.fault().isPresent()) {
            return CodeReport.rejected(Rejection.at(hex.at(), hex.fault().get(), Hex.detail(hex.fault().get())));
        }
        byte[] data = hex.bytes();
        if (data.length != 2 && data.length != 3) {
            return CodeReport.rejected(
                    Rejection.at(Math.min(data.length, 3), Why.LENGTH,
                            "A code has two bytes, or three with its failure type; send each code by itself."));
        }
        int two = (data[0] & 0xFF) << 8 | data[1] & 0xFF;
        J2012Code code = data.length == 2 ? J2012Code.ofTwoBytes(two) : J2012Code.ofThreeBytes(two << 8 | data[2] & 0xFF);
        List<SeenCode> codes = code.isUnused()
                ? List.of()
                : List.of(SeenCode.answered(code, Optional.empty(), sourceAddress, Optional.empty()));
        return new CodeReport(codes, List.of(), List.of(), List.of());
    }
}
