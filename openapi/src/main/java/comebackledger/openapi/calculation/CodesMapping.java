package comebackledger.openapi.calculation;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.code.Candump;
import comebackledger.code.CodeMeaning;
import comebackledger.code.CodeReport;
import comebackledger.code.DmKind;
import comebackledger.code.DmLamps;
import comebackledger.code.DmMessage;
import comebackledger.code.J1939Code;
import comebackledger.code.J2012Bytes;
import comebackledger.code.J2012Code;
import comebackledger.code.Lamp;
import comebackledger.code.LampSeverity;
import comebackledger.code.ObdResponse;
import comebackledger.code.Rejection;
import comebackledger.code.SeenCode;
import comebackledger.code.UdsResponse;
import comebackledger.code.Why;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Words;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.regex.Pattern;

/** {@code POST /v1/calculations/codes}: texts, frames and a log to codes, lamps and rejections. */
public final class CodesMapping {
    /** Codes, and frames, of one request. */
    static final int ENTRIES_AT_MOST = 10_000;
    /** Codes and rejections of one answer, so that a hostile body buys no answer far larger than itself. */
    static final int ANSWERED_AT_MOST = 20_000;

    private static final Pattern IDENTIFIER = Pattern.compile("[0-9A-Fa-f]{3}|[0-9A-Fa-f]{8}");
    private static final Pattern BETWEEN_FRAMES = Pattern.compile("[\\s,;]+");

    /** What the bytes or frames of one entry hold. */
    private enum Format {
        J2012, OBD, UDS, DM1, DM2
    }

    private static final Map<String, Format> FORMATS = Words.of(Format.values(), format -> format.name().toLowerCase(Locale.ROOT));

    private final ObjectNode answer = JsonNodeFactory.instance.objectNode();
    private final ArrayNode codes = answer.putArray("codes");
    private final ArrayNode lamps = answer.putArray("lamps");
    private final ArrayNode rejected = answer.putArray("rejected");
    private final ArrayNode acknowledgements = JsonNodeFactory.instance.arrayNode();

    private CodesMapping() {}

    /** @throws comebackledger.openapi.Problem 422 with every fault of the body */
    public static JsonNode answer(Fields body) {
        CodesMapping mapping = new CodesMapping();
        List<String> texts = body.texts("codes");
        if (texts.size() > ENTRIES_AT_MOST) {
            body.fault("codes", "`codes` has more than " + ENTRIES_AT_MOST + " entries, the limit of one calculation.");
        }
        List<Asked> frames = body.list("frames", ENTRIES_AT_MOST, CodesMapping::asked);
        Optional<String> candump = body.text("candump");
        body.refuseUnknown();
        body.faults().throwIfAny();
        for (int i = 0; i < texts.size(); i++) {
            mapping.text(texts.get(i), i, body.pointer("codes") + "/" + i);
        }
        for (Asked asked : frames) {
            mapping.report(asked.read(), asked.sourceAddress(), asked.pointer());
        }
        candump.ifPresent(log -> mapping.report(Candump.read(log), OptionalInt.empty(), body.pointer("candump")));
        if (!mapping.acknowledgements.isEmpty()) {
            mapping.answer.set("acknowledgements", mapping.acknowledgements);
        }
        return mapping.answer;
    }

    /** One entry of {@code frames}: either bytes, or frames as they stood on the bus. */
    private record Asked(String pointer, Format format, Optional<String> bytes, List<String> frames, Optional<String> identifier,
            OptionalInt sourceAddress) {
        CodeReport read() {
            if (bytes.isEmpty()) {
                return readFrames(frames);
            }
            return isFramed(bytes.get())
                    ? readFrames(List.of(identifier.orElse(UNNAMED_SENDER) + "#" + compact(bytes.get())))
                    : readBytes(bytes.get());
        }

        private CodeReport readFrames(List<String> sent) {
            return switch (format) {
                case OBD -> ObdResponse.readFrames(sent);
                case UDS -> UdsResponse.readFrames(sent);
                case J2012, DM1, DM2 -> Candump.readFrames(sent);
            };
        }

        private CodeReport readBytes(String sent) {
            return switch (format) {
                case J2012 -> J2012Bytes.read(sent, address());
                case OBD -> ObdResponse.read(sent, identifier, sourceAddress);
                case UDS -> UdsResponse.report(sent, identifier, sourceAddress);
                case DM1 -> DmMessage.read(DmKind.DM1, sent, address());
                case DM2 -> DmMessage.read(DmKind.DM2, sent, address());
            };
        }

        /** A whole frame begins with its frame byte, 00 to 3F; an answer by itself begins with its service, 43 or above. */
        private boolean isFramed(String sent) {
            String text = compact(sent);
            boolean lowNibble = !text.isEmpty() && text.charAt(0) >= '0' && text.charAt(0) <= '3';
            return lowNibble && (format == Format.OBD || format == Format.UDS && identifier.isPresent());
        }

        private OptionalInt address() {
            return sourceAddress.isPresent() || identifier.isEmpty() || identifier.get().length() != 8
                    ? sourceAddress
                    : OptionalInt.of(Integer.parseInt(identifier.get().substring(6), 16));
        }
    }

    /** Stands for the sender while bytes that came without one are put together; the lowest identifier, which no module answers with. */
    private static final String UNNAMED_SENDER = "000";

    private static String compact(String bytes) {
        return bytes.replaceAll("\\s", "");
    }

    private static Optional<Asked> asked(Fields fields) {
        Optional<Format> format = fields.required("format", fields.word("format", FORMATS));
        Optional<String> bytes = fields.text("bytes");
        List<String> sent = fields.textOrTexts("frames");
        Optional<String> identifier = fields.text("identifier");
        OptionalInt sourceAddress = fields.integer("sourceAddress", 0, 255);
        if (fields.has("bytes") == fields.has("frames")) {
            fields.fault("bytes", "Send either `bytes`, one message in hexadecimal, or `frames`, a list of identifier#data.");
        }
        if (fields.has("frames") && format.filter(found -> found == Format.J2012).isPresent()) {
            fields.fault("frames", "A j2012 code has no frames. Send its two or three bytes as `bytes`.");
        }
        if (identifier.isPresent() && !IDENTIFIER.matcher(identifier.get()).matches()) {
            fields.fault("identifier", "`identifier` must be three or eight hexadecimal digits, such as 7E8 or 18FECA00.");
        }
        return fields.build(() -> new Asked(fields.pointer(), format.orElseThrow(), bytes, frames(sent), identifier, sourceAddress));
    }

    /** A single text may hold several frames with white space, commas or semicolons between them. */
    private static List<String> frames(List<String> sent) {
        return sent.size() == 1
                ? BETWEEN_FRAMES.splitAsStream(sent.getFirst()).filter(frame -> !frame.isEmpty()).toList()
                : sent;
    }

    private void text(String text, int index, String pointer) {
        Optional<J2012Code> code = J2012Code.parse(text);
        if (code.isEmpty()) {
            reject(new Rejection(Rejection.Where.AT, index, J2012Code.fault(text).orElse(Why.FORM),
                    "A code is a letter P, C, B or U, a digit from 0 to 3 and three hexadecimal digits, such as U0121, or with a failure type U0121-87."),
                    pointer);
        } else if (code.get().isUnused()) {
            reject(new Rejection(Rejection.Where.AT, index, Why.FORM, "P0000 is an unused slot and never a fault. Leave it out."), pointer);
        } else {
            code(new SeenCode(code.get(), Optional.empty(), OptionalInt.empty(), OptionalInt.empty(), Optional.empty(), Optional.empty(),
                    Optional.empty(),
                    Optional.empty()), OptionalInt.empty());
        }
    }

    private void report(CodeReport report, OptionalInt sourceAddress, String pointer) {
        report.codes().forEach(seen -> code(seen, sourceAddress));
        report.lamps().forEach(this::lamps);
        report.rejected().forEach(rejection -> reject(rejection, pointer));
        report.acknowledgements().forEach(this::acknowledgement);
    }

    private void reject(Rejection rejection, String pointer) {
        if (rejected.size() > ANSWERED_AT_MOST) {
            return;
        }
        boolean last = rejected.size() == ANSWERED_AT_MOST;
        ObjectNode node = rejected.addObject();
        node.put(rejection.where() == Rejection.Where.LINE ? "line" : "at", rejection.number());
        node.put("why", last ? Why.LENGTH.word() : rejection.why().word());
        node.put("detail",
                last ? "More than " + ANSWERED_AT_MOST + " pieces were rejected; this one and those after it are not listed." : rejection.detail());
        node.put("pointer", pointer);
    }

    private void code(SeenCode seen, OptionalInt asked) {
        if (codes.size() >= ANSWERED_AT_MOST) {
            reject(new Rejection(Rejection.Where.AT, codes.size(), Why.LENGTH, "More than " + ANSWERED_AT_MOST + " codes; this one is left out."),
                    "");
            return;
        }
        ObjectNode node = codes.addObject();
        switch (seen.code()) {
            case J2012Code code -> {
                node.put("code", code.base());
                code.failureTypeText().ifPresent(type -> node.put("failureType", type));
            }
            case J1939Code code -> j1939(code, node);
        }
        OptionalInt address = seen.sourceAddress().isPresent() ? seen.sourceAddress() : asked;
        address.ifPresent(value -> node.put("sourceAddress", value));
        seen.ecu().filter(ecu -> !ecu.equals(UNNAMED_SENDER)).ifPresent(ecu -> node.put("ecu", ecu));
        seen.networkInterface().ifPresent(name -> node.put("interface", name));
        seen.status().ifPresent(status -> node.put("status", status.word()));
        seen.occurrences().ifPresent(count -> node.put("occurrences", count));
        seen.activeAtEnd().ifPresent(active -> node.put("activeAtEnd", active));
        seen.lamps().ifPresent(shown -> lampsOn(shown, node));
        meaning(CodeMeaning.of(seen.code()), node);
    }

    private static void j1939(J1939Code code, ObjectNode node) {
        code.spn().ifPresent(spn -> node.put("spn", spn));
        if (code.spn().isEmpty()) {
            ArrayNode candidates = node.putArray("spnCandidates");
            code.spnCandidates().forEach(candidates::add);
        }
        node.put("fmi", code.fmi());
        node.put("conversionMethod", code.spn().isPresent() ? 0 : 1);
    }

    private static void lampsOn(DmLamps shown, ObjectNode node) {
        ArrayNode on = node.putArray("lampsOn");
        shown.on().forEach(lamp -> on.add(lamp.word()));
        node.put("severity", LampSeverity.of(shown.on()).word());
    }

    private static void meaning(CodeMeaning meaning, ObjectNode node) {
        node.put("system", meaning.system());
        node.put("kind", meaning.kind().word());
        meaning.accused().ifPresent(module -> node.put("accused", module));
        meaning.accusedAddress().ifPresent(address -> node.put("accusedAddress", address));
        node.put("meaning", meaning.meaning());
        node.put("source", meaning.source());
    }

    private void lamps(CodeReport.SenderLamps sender) {
        ObjectNode node = lamps.addObject();
        sender.sourceAddress().ifPresent(address -> node.put("sourceAddress", address));
        sender.networkInterface().ifPresent(name -> node.put("interface", name));
        for (Lamp lamp : List.of(Lamp.RED_STOP, Lamp.AMBER_WARNING, Lamp.MALFUNCTION, Lamp.PROTECT)) {
            sender.lamps().isOn(lamp).ifPresent(on -> node.put(lamp.word(), on));
        }
    }

    private void acknowledgement(CodeReport.Acknowledgement acknowledgement) {
        ObjectNode node = acknowledgements.addObject();
        node.put("sourceAddress", acknowledgement.sourceAddress());
        acknowledgement.networkInterface().ifPresent(name -> node.put("interface", name));
        node.put("parameterGroup", acknowledgement.parameterGroup());
        node.put("accepted", acknowledgement.accepted());
    }
}
