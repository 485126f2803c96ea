package comebackledger.openapi;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import com.fasterxml.jackson.databind.DeserializationContext;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.deser.std.StdDeserializer;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.databind.ser.std.StdSerializer;
import comebackledger.trail.UnitSummary;
import java.io.IOException;
import java.time.Instant;
import java.util.OptionalDouble;

/**
 * The records that a derived row holds once a visit, written field by field without looking anything up: a unit with a long history has hundreds, and
 * every visit reads and writes them all.
 */
final class LongRows {
    private static final long NANOS = 1_000_000_000L;

    private LongRows() {}

    static SimpleModule module() {
        return new SimpleModule("long-rows")
                .addSerializer(UnitSummary.Metered.class, new Writer<>(UnitSummary.Metered.class, LongRows::write))
                .addDeserializer(UnitSummary.Metered.class, new Reader<>(UnitSummary.Metered.class, LongRows::metered));
    }

    // In the order of the fields; what is missing is null.

    private static void write(UnitSummary.Metered metered, JsonGenerator out) throws IOException {
        write(metered.at(), out);
        write(metered.km(), out);
        out.writeNumber(metered.kmPiece());
        write(metered.engineHours(), out);
        out.writeNumber(metered.hoursPiece());
    }

    private static UnitSummary.Metered metered(JsonParser in) throws IOException {
        return new UnitSummary.Metered(instant(in), number(in), whole(in), number(in), whole(in));
    }

    // Parts.

    /** Whole nanoseconds since 1970 fit a long from 1678 to 2262, more than evidence may span. */
    static void write(Instant instant, JsonGenerator out) throws IOException {
        out.writeNumber(Math.addExact(Math.multiplyExact(instant.getEpochSecond(), NANOS), instant.getNano()));
    }

    static Instant instant(long nanos) {
        return Instant.ofEpochSecond(Math.floorDiv(nanos, NANOS), Math.floorMod(nanos, NANOS));
    }

    private static Instant instant(JsonParser in) throws IOException {
        in.nextToken();
        return instant(in.getLongValue());
    }

    private static void write(OptionalDouble number, JsonGenerator out) throws IOException {
        if (number.isPresent()) {
            out.writeNumber(number.getAsDouble());
        } else {
            out.writeNull();
        }
    }

    private static OptionalDouble number(JsonParser in) throws IOException {
        return in.nextToken() == JsonToken.VALUE_NULL ? OptionalDouble.empty() : OptionalDouble.of(in.getDoubleValue());
    }

    private static int whole(JsonParser in) throws IOException {
        in.nextToken();
        return in.getIntValue();
    }

    private interface Write<T> {
        void fields(T value, JsonGenerator out) throws IOException;
    }

    private interface Read<T> {
        T fields(JsonParser in) throws IOException;
    }

    private static final class Writer<T> extends StdSerializer<T> {
        private static final long serialVersionUID = 1L;
        private final transient Write<T> write;

        Writer(Class<T> type, Write<T> write) {
            super(type);
            this.write = write;
        }

        @Override
        public void serialize(T value, JsonGenerator out, SerializerProvider provider) throws IOException {
            out.writeStartArray();
            write.fields(value, out);
            out.writeEndArray();
        }
    }

    private static final class Reader<T> extends StdDeserializer<T> {
        private static final long serialVersionUID = 1L;
        private final transient Read<T> read;

        Reader(Class<T> type, Read<T> read) {
            super(type);
            this.read = read;
        }

        @Override
        public T deserialize(JsonParser in, DeserializationContext context) throws IOException {
            T value = read.fields(in);
            if (in.nextToken() != JsonToken.END_ARRAY) {
                throw new IOException("more fields than " + handledType().getSimpleName() + " has");
            }
            return value;
        }
    }
}
