package comebackledger.openapi;

import com.fasterxml.jackson.annotation.JsonAutoDetect;
import com.fasterxml.jackson.annotation.JsonFormat;
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
import com.fasterxml.jackson.databind.introspect.Annotated;
import com.fasterxml.jackson.databind.introspect.AnnotatedClass;
import com.fasterxml.jackson.databind.introspect.JacksonAnnotationIntrospector;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.StdSerializer;
import com.fasterxml.jackson.dataformat.cbor.databind.CBORMapper;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import comebackledger.judge.VisitFacts;
import comebackledger.ledger.Codec;
import comebackledger.measure.MeterReading;
import comebackledger.policy.Policy;
import comebackledger.trail.UnitState;
import comebackledger.unit.Unit;
import comebackledger.visit.Place;
import comebackledger.visit.Visit;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.Instant;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Core's codec port: kept documents by the mappings, facts and states by position, other derived rows as CBOR (RFC 8949) of core's own records. */
public final class LedgerCodec implements Codec {
    private static final ObjectMapper DERIVED = CBORMapper.builder()
            .addModule(new Jdk8Module())
            .addModule(new SimpleModule().addSerializer(Instant.class, new InstantWriter()).addDeserializer(Instant.class, new InstantReader())
                    .addSerializer(Place.class, new PlaceWriter()).addDeserializer(Place.class, new PlaceReader()))
            .addModule(LongRows.module())
            .annotationIntrospector(new RowsByPosition())
            // Derived predicates such as isOpen() are no content.
            .disable(MapperFeature.AUTO_DETECT_IS_GETTERS, MapperFeature.AUTO_DETECT_GETTERS)
            .visibility(PropertyAccessor.FIELD, JsonAutoDetect.Visibility.ANY)
            .serializationInclusion(JsonInclude.Include.NON_ABSENT)
            .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
            .build();

    /** What a rebuild makes again is written without the names of its fields: half the bytes, and a long history is read in half the time. */
    private static final class RowsByPosition extends JacksonAnnotationIntrospector {
        private static final long serialVersionUID = 1L;
        private static final Set<Package> REBUILT = Set.of(VisitFacts.class.getPackage(), UnitState.class.getPackage(),
                MeterReading.class.getPackage());

        @Override
        public JsonFormat.@Nullable Value findFormat(Annotated annotated) {
            return annotated instanceof AnnotatedClass type && type.getRawType().isRecord() && REBUILT.contains(type.getRawType().getPackage())
                    ? JsonFormat.Value.forShape(JsonFormat.Shape.ARRAY)
                    : super.findFormat(annotated);
        }
    }

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
            LongRows.write(value, out);
        }
    }

    private static final class InstantReader extends StdDeserializer<Instant> {
        private static final long serialVersionUID = 1L;

        InstantReader() {
            super(Instant.class);
        }

        @Override
        public Instant deserialize(JsonParser in, DeserializationContext context) throws IOException {
            return LongRows.instant(in.getLongValue());
        }
    }

    private static final class PlaceWriter extends StdSerializer<Place> {
        private static final long serialVersionUID = 1L;

        PlaceWriter() {
            super(Place.class);
        }

        @Override
        public void serialize(Place value, JsonGenerator out, SerializerProvider provider) throws IOException {
            out.writeString(value.toString());
        }
    }

    private static final class PlaceReader extends StdDeserializer<Place> {
        private static final long serialVersionUID = 1L;

        PlaceReader() {
            super(Place.class);
        }

        @Override
        public Place deserialize(JsonParser in, DeserializationContext context) throws IOException {
            String text = in.getText();
            return Place.parse(text).orElseThrow(() -> new IOException("not a place: " + text));
        }
    }
}
