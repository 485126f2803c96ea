package comebackledger.openapi;

import com.fasterxml.jackson.annotation.JsonAutoDetect;
import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.annotation.PropertyAccessor;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.MapperFeature;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.deser.std.StdDeserializer;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.StdSerializer;
import com.fasterxml.jackson.dataformat.cbor.databind.CBORMapper;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import comebackledger.judge.VisitFacts;
import comebackledger.ledger.Codec;
import comebackledger.openapi.row.FactsRow;
import comebackledger.openapi.row.StateRow;
import comebackledger.openapi.row.SummaryRow;
import comebackledger.policy.Policy;
import comebackledger.trail.UnitState;
import comebackledger.trail.UnitSummary;
import comebackledger.unit.Unit;
import comebackledger.visit.Visit;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Instant;

/** Core's codec port: kept documents by the mappings, derived rows by position, baselines as CBOR (RFC 8949) of core's own records. */
public final class LedgerCodec implements Codec {
    /** Whole nanoseconds since 1970 fit a long from 1678 to 2262, more than evidence may span. */
    private static final long NANOS = 1_000_000_000L;
    private static final ObjectMapper DERIVED = CBORMapper.builder()
            .addModule(new Jdk8Module())
            .addModule(new SimpleModule().addSerializer(Instant.class, new InstantWriter()).addDeserializer(Instant.class, new InstantReader()))
            // Derived predicates such as isOpen() are no content.
            .disable(MapperFeature.AUTO_DETECT_IS_GETTERS, MapperFeature.AUTO_DETECT_GETTERS)
            .visibility(PropertyAccessor.FIELD, JsonAutoDetect.Visibility.ANY)
            .serializationInclusion(JsonInclude.Include.NON_ABSENT)
            .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
            .build();

    @Override
    public Unit unit(String id, String document) {
        return UnitMapping.toCore(id, Json.kept(document));
    }

    @Override
    public Visit visit(String id, String evidence) {
        return VisitMapping.kept(id, evidence);
    }

    @Override
    public Policy policy(String document) {
        return PolicyMapping.policy(Json.kept(document));
    }

    @Override
    public byte[] encode(Object derived) {
        return switch (derived) {
            case VisitFacts facts -> FactsRow.bytes(facts);
            case UnitState state -> StateRow.bytes(state);
            case UnitSummary summary -> SummaryRow.bytes(summary);
            default -> cbor(derived);
        };
    }

    private static byte[] cbor(Object derived) {
        try {
            return DERIVED.writeValueAsBytes(derived);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public <T> T decode(byte[] bytes, Class<T> type) {
        if (type == VisitFacts.class) {
            return type.cast(FactsRow.read(bytes));
        }
        if (type == UnitState.class) {
            return type.cast(StateRow.read(bytes));
        }
        if (type == UnitSummary.class) {
            return type.cast(SummaryRow.read(bytes));
        }
        try {
            return DERIVED.readValue(bytes, type);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static final class InstantWriter extends StdSerializer<Instant> {
        private static final long serialVersionUID = 1L;

        InstantWriter() {
            super(Instant.class);
        }

        @Override
        public void serialize(Instant value, JsonGenerator out, SerializerProvider provider) throws IOException {
            out.writeNumber(Math.addExact(Math.multiplyExact(value.getEpochSecond(), NANOS), value.getNano()));
        }
    }

    private static final class InstantReader extends StdDeserializer<Instant> {
        private static final long serialVersionUID = 1L;

        InstantReader() {
            super(Instant.class);
        }

        @Override
        public Instant deserialize(JsonParser in, DeserializationContext context) throws IOException {
            return Instant.ofEpochSecond(Math.floorDiv(in.getLongValue(), NANOS), Math.floorMod(in.getLongValue(), NANOS));
        }
    }
}
