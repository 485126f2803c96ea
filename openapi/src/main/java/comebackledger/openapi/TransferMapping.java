package comebackledger.openapi;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import comebackledger.baseline.Baseline;
import comebackledger.ledger.Evidence;
import comebackledger.ledger.Stored;
import comebackledger.ledger.TransferLine;
import comebackledger.policy.Policy;
import comebackledger.unit.Unit;
import comebackledger.visit.Visit;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.Base64;
import java.util.Iterator;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;

/**
 * Lines of imports and exports: {@code {"unit": {..}}}, {@code {"visit": {..}}}, and in exports {@code {"policy": {..}}} and
 * {@code {"baseline": {..}}}. Documents pass as the text they were kept in, so that an export of an import is the same bytes.
 */
public final class TransferMapping {
    private static final Set<String> BESIDE_UNIT = Set.of("id", "version", "recordedAt");
    private static final Set<String> BESIDE_VISIT = Set.of("unit", "id", "revision", "receivedAt");

    private static final LedgerCodec CODEC = new LedgerCodec();

    /** At most, of what an export writes around a document on its line: names, revision and time. */
    private static final int BESIDE_BYTES_AT_MOST = 512;
    /** Of a line that an export wrote: the largest document with what stands beside it. */
    public static final int LINE_BYTES_AT_MOST = Json.DOCUMENT_BYTES_AT_MOST + BESIDE_BYTES_AT_MOST;

    private TransferMapping() {}

    /**
     * @param now the server's clock, which a visit may be ahead of by an hour
     * @throws Problem 400 or 422 with every fault of the line, 413 if it is longer than {@link Json#DOCUMENT_BYTES_AT_MOST} and no export wrote it
     */
    public static TransferLine toCore(byte[] line, Instant now) {
        JsonNode root = Json.object(line);
        Faults faults = new Faults();
        Iterator<String> names = root.fieldNames();
        String kind = names.hasNext() ? names.next() : "";
        if (names.hasNext() || !Set.of("unit", "visit", "policy", "baseline").contains(kind) || !root.get(kind).isObject()) {
            faults.add("", "A line holds one object under one name: `unit` or `visit`; in an export also `policy` or `baseline`.");
            faults.throwIfAny();
        }
        Fields fields = Fields.of(root.get(kind), "/" + kind, faults);
        Optional<? extends TransferLine> found = switch (kind) {
            case "unit" -> unit(line, fields);
            case "visit" -> visit(line, fields, now);
            case "policy" -> policy(root, fields);
            default -> baseline(fields);
        };
        faults.throwIfAny();
        TransferLine decoded = found.orElseThrow();
        if (line.length > Json.DOCUMENT_BYTES_AT_MOST && !isExported(decoded)) {
            throw tooLong();
        }
        return decoded;
    }

    /** A document of the largest size comes back from an export with more beside it. */
    private static boolean isExported(TransferLine line) {
        return switch (line) {
            case TransferLine.OfUnit unit -> unit.recordedAt().isPresent();
            case TransferLine.OfVisit visit -> visit.receivedAt().isPresent();
            case TransferLine.OfUnitNamed _ -> false;
            case TransferLine.OfPolicy _,TransferLine.OfBaseline _ -> true;
        };
    }

    public static Problem tooLong() {
        return new Problem(Problem.Slug.PAYLOAD_TOO_LARGE,
                "The line has more than " + Json.DOCUMENT_BYTES_AT_MOST + " bytes, the limit of one line.");
    }

    private static Optional<TransferLine> unit(byte[] line, Fields fields) {
        Optional<String> id = fields.required("id", fields.identifier("id"));
        OptionalInt version = fields.integer("version", 1, Integer.MAX_VALUE);
        Optional<Instant> recordedAt = fields.time("recordedAt");
        Optional<Unit> unit = UnitMapping.unit(id.orElse(""), fields);
        return id.isEmpty()
                ? Optional.empty()
                : unit.map(decoded -> new TransferLine.OfUnit(new Evidence<>(decoded, Json.compactMember(line, "unit", BESIDE_UNIT)), version,
                        recordedAt));
    }

    private static Optional<TransferLine> visit(byte[] line, Fields fields, Instant now) {
        Optional<String> unit = fields.required("unit", fields.identifier("unit"));
        Optional<String> id = fields.required("id", fields.identifier("id"));
        OptionalInt revision = fields.integer("revision", 1, Integer.MAX_VALUE);
        Optional<Instant> receivedAt = fields.time("receivedAt");
        if (receivedAt.filter(instant -> instant.isAfter(VisitMapping.latest(now))).isPresent()) {
            fields.fault("receivedAt",
                    "The receipt lies more than one hour ahead of the server's clock: until then dispatch would not know the visit. Leave it out.");
        }
        Optional<Visit> visit = VisitMapping.visit(id.orElse(""), fields, Optional.of(now));
        return unit.isEmpty() || id.isEmpty()
                ? Optional.empty()
                : visit.map(decoded -> new TransferLine.OfVisit(unit.get(), new Evidence<>(decoded, Json.compactMember(line, "visit", BESIDE_VISIT)),
                        revision, receivedAt));
    }

    private static Optional<TransferLine> policy(JsonNode root, Fields fields) {
        OptionalInt version = fields.integer("version", 1, Integer.MAX_VALUE);
        Optional<Instant> recordedAt = fields.required("recordedAt", fields.time("recordedAt"));
        fields.required("document", fields.object("document"));
        fields.required("version", Optional.empty());
        return fields.build(() -> {
            JsonNode sent = root.get("policy").get("document");
            Policy policy = PolicyMapping.policy(sent);
            return new TransferLine.OfPolicy(new Evidence<>(policy, sent.toString()), version.orElseThrow(), recordedAt.orElseThrow());
        });
    }

    private static Optional<TransferLine> baseline(Fields fields) {
        OptionalInt version = fields.integer("version", 1, Integer.MAX_VALUE);
        Optional<Instant> learnedAt = fields.required("learnedAt", fields.time("learnedAt"));
        Optional<String> content = fields.required("content", fields.text("content"));
        fields.required("version", Optional.empty());
        Optional<byte[]> bytes = content.flatMap(text -> baselineBytes(text, version, learnedAt));
        if (content.isPresent() && bytes.isEmpty()) {
            fields.fault("content",
                    "`content` is not that of this baseline. Send the line as it was exported, or leave it out: the next baseline is learned anew.");
        }
        return fields.build(() -> new TransferLine.OfBaseline(version.orElseThrow(), learnedAt.orElseThrow(), bytes.orElseThrow()));
    }

    /** Empty where it is none, or another one than the line says: an answer that rests on it must be able to read it. */
    private static Optional<byte[]> baselineBytes(String content, OptionalInt version, Optional<Instant> learnedAt) {
        try {
            byte[] bytes = Base64.getDecoder().decode(content);
            Baseline baseline = CODEC.decode(bytes, Baseline.class);
            boolean same = version.orElse(0) == baseline.version() && learnedAt.filter(baseline.learnedAt()::equals).isPresent();
            return same ? Optional.of(bytes) : Optional.empty();
        } catch (IllegalArgumentException | NullPointerException | UncheckedIOException e) {
            return Optional.empty();
        }
    }

    // Out.

    public static byte[] line(Stored.UnitVersion version) {
        ObjectNode beside = object().put("id", version.unit()).put("version", version.version()).put("recordedAt", version.recordedAt().toString());
        return line("unit", beside, version.document());
    }

    public static byte[] line(Stored.VisitRevision revision) {
        ObjectNode beside = object().put("unit", revision.unit()).put("id", revision.visit()).put("revision", revision.revision()).put("receivedAt",
                revision.receivedAt().toString());
        return line("visit", beside, revision.evidence());
    }

    public static byte[] line(Stored.PolicyVersion version) {
        String head = object().put("version", version.version()).put("recordedAt", version.recordedAt().toString()).toString();
        return bytes("{\"policy\":" + head.substring(0, head.length() - 1) + ",\"document\":" + version.document() + "}}\n");
    }

    public static byte[] line(Stored.BaselineVersion version) {
        ObjectNode whole = object().put("version", version.version()).put("learnedAt", version.learnedAt().toString()).put("content",
                Base64.getEncoder().encodeToString(version.content()));
        return bytes("{\"baseline\":" + whole + "}\n");
    }

    /** What stands beside the document, then the members of the document as they are kept. */
    private static byte[] line(String kind, ObjectNode beside, String document) {
        String head = beside.toString();
        String members = document.substring(1, document.length() - 1);
        return bytes("{\"" + kind + "\":" + head.substring(0, head.length() - 1) + (members.isEmpty() ? "" : ",") + members + "}}\n");
    }

    private static ObjectNode object() {
        return JsonNodeFactory.instance.objectNode();
    }

    private static byte[] bytes(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }
}
