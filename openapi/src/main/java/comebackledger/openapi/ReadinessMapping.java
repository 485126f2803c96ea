package comebackledger.openapi;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.JsonNode;
import comebackledger.ledger.DispatchDesk;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Reason;
import comebackledger.readiness.Risk;
import comebackledger.readiness.Trip;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** The dispatch answer to the wire, and the bulk question to core. */
public final class ReadinessMapping {
    /** Units in one bulk question. */
    public static final int UNITS_AT_MOST = 20_000;

    /** Twelve bytes tell the answers of one unit apart; common practice, no source. */
    private static final int TAG_BYTES = 12;

    private ReadinessMapping() {}

    /** An answer as bytes. @param tag with its quotes */
    @SuppressWarnings("ArrayRecordComponent") // sent, never compared
    public record Document(byte[] bytes, String tag) {}

    /** Many units asked about at once. */
    public record Questions(List<DispatchDesk.Question> questions, Optional<Instant> at) {}

    /** @throws Problem 400 or 422 with every fault */
    public static Questions toCore(byte[] body) {
        Faults faults = new Faults();
        Fields fields = Fields.of(Json.object(body), faults);
        if (!fields.has("units")) {
            fields.fault("units", "`units` is missing. Send a list of the units asked about; an empty list is answered by an empty one.");
        }
        List<DispatchDesk.Question> questions = fields.list("units", UNITS_AT_MOST, ReadinessMapping::question);
        Optional<Instant> at = fields.time("at");
        Optional<Questions> read = fields.build(() -> new Questions(questions, at));
        faults.throwIfAny();
        return read.orElseThrow();
    }

    private static Optional<DispatchDesk.Question> question(Fields fields) {
        Optional<String> unit = fields.required("unit", fields.identifier("unit"));
        OptionalDouble km = fields.number("distanceKm", 0.001, 1e5);
        OptionalDouble hours = fields.number("engineHours", 0.001, 1e4);
        return fields.build(() -> new DispatchDesk.Question(unit.orElseThrow(), new Trip(km, hours)));
    }

    /** As it was first told. */
    public static JsonNode toWire(ReadinessAnswer answer) {
        return Json.kept(new String(document(answer, answer.at()).bytes(), StandardCharsets.UTF_8));
    }

    /** The answer as it is told at an instant while it holds. */
    public static void write(ReadinessAnswer answer, Instant at, JsonGenerator out) throws IOException {
        out.writeStartObject();
        writeAnswer(answer, out);
        writeTimes(answer, at, out);
        writeReasons(answer, out);
        writeRisk(answer, out);
        writeGrounds(answer, out);
        out.writeEndObject();
    }

    /** {@link #write} by itself, with the entity tag of the answer and its grounds: the moment of asking, and digits of the risk that move with it, make no new answer. */
    public static Document document(ReadinessAnswer answer, Instant at) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(1 << 10);
        MessageDigest digest = sha256();
        try (JsonGenerator out = Json.generator(bytes)) {
            out.writeStartObject();
            writeAnswer(answer, out);
            out.flush();
            int timesFrom = bytes.size();
            writeTimes(answer, at, out);
            out.flush();
            int reasonsFrom = bytes.size();
            writeReasons(answer, out);
            out.flush();
            int riskFrom = bytes.size();
            writeRisk(answer, out);
            out.flush();
            int groundsFrom = bytes.size();
            writeGrounds(answer, out);
            out.writeEndObject();
            out.flush();
            byte[] document = bytes.toByteArray();
            digest.update(document, 0, timesFrom);
            digest.update(document, reasonsFrom, riskFrom - reasonsFrom);
            digest.update(document, groundsFrom, document.length - groundsFrom);
            return new Document(document, '"' + HexFormat.of().formatHex(digest.digest(), 0, TAG_BYTES) + '"');
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static MessageDigest sha256() {
        try {
            return MessageDigest.getInstance("SHA-256");
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256", e);
        }
    }

    private static void writeAnswer(ReadinessAnswer answer, JsonGenerator out) throws IOException {
        out.writeStringField("unit", answer.unit());
        out.writeStringField("answer", answer.answer().word());
    }

    private static void writeTimes(ReadinessAnswer answer, Instant at, JsonGenerator out) throws IOException {
        out.writeStringField("at", at.toString());
        out.writeStringField("validUntil", answer.validUntil().toString());
    }

    private static void writeReasons(ReadinessAnswer answer, JsonGenerator out) throws IOException {
        out.writeNumberField("policyVersion", answer.policyVersion());
        out.writeArrayFieldStart("reasons");
        for (Reason reason : answer.reasons()) {
            out.writeStartObject();
            out.writeStringField("reason", reason.kind().word());
            out.writeStringField("weight", reason.weight().word());
            if (reason.place().isPresent()) {
                out.writeStringField("place", reason.place().get());
            }
            out.writeStringField("detail", reason.detail());
            out.writeArrayFieldStart("grounds");
            for (String ground : reason.grounds()) {
                out.writeString(ground);
            }
            out.writeEndArray();
            out.writeStringField("source", reason.source());
            out.writeEndObject();
        }
        out.writeEndArray();
    }

    private static void writeRisk(ReadinessAnswer answer, JsonGenerator out) throws IOException {
        if (answer.risk().isEmpty()) {
            return;
        }
        Risk risk = answer.risk().get();
        out.writeObjectFieldStart("risk");
        out.writeNumberField("probability", risk.probability());
        out.writeNumberField("low", risk.low());
        out.writeNumberField("high", risk.high());
        out.writeObjectFieldStart("per");
        writeWhereKnown("distanceKm", risk.per().distanceKm(), out);
        writeWhereKnown("engineHours", risk.per().engineHours(), out);
        writeWhereKnown("days", risk.per().days(), out);
        out.writeEndObject();
        out.writeStringField("basis", risk.basis());
        out.writeEndObject();
    }

    private static void writeWhereKnown(String name, OptionalDouble value, JsonGenerator out) throws IOException {
        if (value.isPresent()) {
            out.writeNumberField(name, value.getAsDouble());
        }
    }

    private static void writeGrounds(ReadinessAnswer answer, JsonGenerator out) throws IOException {
        if (answer.risk().isPresent()) {
            out.writeNumberField("baselineVersion", answer.risk().get().baselineVersion());
        }
        if (answer.riskAbsent().isPresent()) {
            out.writeStringField("riskAbsent", answer.riskAbsent().get());
        }
        out.writeObjectFieldStart("basedOn");
        out.writeNumberField("visits", answer.visits());
        if (answer.lastVisit().isPresent()) {
            out.writeStringField("lastVisit", answer.lastVisit().get().visit());
            out.writeStringField("lastVisitAt", answer.lastVisit().get().arrivedAt().toString());
        }
        out.writeEndObject();
    }
}
