package comebackledger.code;

import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * An answer of ISO 14229-1, ReadDTCInformation, forms 02 (by status mask), 06 (extended records of one code) and 0A (supported codes):
 * <pre>
 *   59 02 mask (code code type status)*      59 0A mask (code code type status)*      59 06 code code type status [record data..]
 * </pre>
 *
 * @param availability the status bits that the server supports; form 06 does not say
 */
public record UdsResponse(OptionalInt availability, List<Entry> codes, List<Rejection> rejected) {
    private static final int READ_CODES = 0x59;
    private static final int BY_STATUS_MASK = 0x02;
    private static final int EXTENDED = 0x06;
    private static final int SUPPORTED = 0x0A;

    /** @param extended the record of form 06, where there is one */
    public record Entry(J2012Code code, UdsStatus status, Optional<ExtendedRecord> extended) {}

    /** @param data hexadecimal, as it came: its length and meaning are the maker's */
    public record ExtendedRecord(int number, String data) {}

    public UdsResponse {
        codes = List.copyOf(codes);
        rejected = List.copyOf(rejected);
    }

    /** One answer without its framing, as hexadecimal text; places are bytes from 0. */
    public static UdsResponse read(String bytes) {
        Hex hex = Hex.read(bytes, " \t\r\n");
        return hex.fault().isPresent()
                ? new UdsResponse(OptionalInt.empty(), List.of(), List.of(Rejection.at(hex.at(), hex.fault().get(), Hex.detail(hex.fault().get()))))
                : decode(hex.bytes(), new DiagnosticAnswer.Sender(Optional.empty(), OptionalInt.empty(), OptionalInt.empty()));
    }

    /** As {@link #read(String)}, the codes as one sender's. */
    public static CodeReport report(String bytes, Optional<String> identifier, OptionalInt sourceAddress) {
        return DiagnosticAnswer.readPayload(bytes, identifier, sourceAddress, UdsResponse::into);
    }

    /** Frames {@code identifier#data} of ISO 15765-2, several modules interleaved; places are frames from 0. */
    public static CodeReport readFrames(List<String> frames) {
        return DiagnosticAnswer.readFrames(frames, UdsResponse::into);
    }

    private static void into(byte[] payload, DiagnosticAnswer.Sender sender, CodeReport.Builder report) {
        UdsResponse response = decode(payload, sender);
        response.rejected.forEach(report::reject);
        response.codes.forEach(entry -> report.code(SeenCode.answered(entry.code(), entry.status().state(), sender.sourceAddress(), sender.ecu())));
    }

    private static UdsResponse decode(byte[] payload, DiagnosticAnswer.Sender sender) {
        CodeReport.Builder faults = new CodeReport.Builder(Limits.DEFAULT);
        if (DiagnosticAnswer.isRefused(payload, sender, faults)) {
            return new UdsResponse(OptionalInt.empty(), List.of(), faults.build().rejected());
        }
        if (payload.length == 0 || (payload[0] & 0xFF) != READ_CODES) {
            return refused(sender.reject(0, Why.SERVICE, "Only an answer to service 19 holds codes: it begins with 59."));
        }
        if (payload.length == 1) {
            return refused(sender.reject(1, Why.LENGTH, "The answer ends before it says its form (02, 06 or 0A)."));
        }
        return switch (payload[1] & 0xFF) {
            case BY_STATUS_MASK, SUPPORTED -> records(payload, sender);
            case EXTENDED -> extended(payload, sender);
            default -> refused(sender.reject(1, Why.SERVICE, "Of service 19, forms 02, 06 and 0A are read here."));
        };
    }

    private static UdsResponse refused(Rejection rejection) {
        return new UdsResponse(OptionalInt.empty(), List.of(), List.of(rejection));
    }

    private static UdsResponse records(byte[] payload, DiagnosticAnswer.Sender sender) {
        if (payload.length == 2) {
            return refused(sender.reject(2, Why.LENGTH, "The answer ends before the mask of supported status bits."));
        }
        int availability = payload[2] & 0xFF;
        List<Entry> codes = new ArrayList<>();
        int at = 3;
        for (; at + 4 <= payload.length; at += 4) {
            J2012Code code = code(payload, at);
            if (!code.isUnused()) {
                codes.add(new Entry(code, new UdsStatus(payload[at + 3] & availability), Optional.empty()));
            }
        }
        List<Rejection> cut = at == payload.length
                ? List.of()
                : List.of(sender.reject(at, Why.LENGTH, "The answer ends inside a record; each has three bytes of code and one of status."));
        return new UdsResponse(OptionalInt.of(availability), codes, cut);
    }

    private static UdsResponse extended(byte[] payload, DiagnosticAnswer.Sender sender) {
        if (payload.length < 6) {
            return refused(sender.reject(2, Why.LENGTH, "The answer ends inside its code; it has three bytes of code and one of status."));
        }
        Optional<ExtendedRecord> extra = payload.length == 6
                ? Optional.empty()
                : Optional.of(new ExtendedRecord(payload[6] & 0xFF, HexFormat.of().withUpperCase().formatHex(payload, 7, payload.length)));
        J2012Code code = code(payload, 2);
        List<Entry> codes = code.isUnused() ? List.of() : List.of(new Entry(code, new UdsStatus(payload[5] & 0xFF), extra));
        return new UdsResponse(OptionalInt.empty(), codes, List.of());
    }

    private static J2012Code code(byte[] payload, int at) {
        return J2012Code.ofThreeBytes((payload[at] & 0xFF) << 16 | (payload[at + 1] & 0xFF) << 8 | payload[at + 2] & 0xFF);
    }

    /** A byte as two hexadecimal characters. */
    public static String hex(int value) {
        return String.format(Locale.ROOT, "%02X", value);
    }
}
