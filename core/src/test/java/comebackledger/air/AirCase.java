package comebackledger.air;

import static org.junit.jupiter.api.Assertions.assertEquals;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import comebackledger.measure.Measured;
import comebackledger.measure.UnitOfMeasure;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;

/** A published case of {@code /air/charge_air.json}, its inputs in SI; each names its source. */
record AirCase(String id, String topic, JsonNode inputs, JsonNode expected, JsonNode tolerance, String source) {
    static Stream<AirCase> all() {
        try (InputStream stream = Objects.requireNonNull(AirCase.class.getResourceAsStream("/air/charge_air.json"))) {
            List<AirCase> cases = new ArrayList<>();
            for (JsonNode node : new ObjectMapper().readTree(stream)) {
                cases.add(new AirCase(node.get("id").textValue(), node.get("topic").textValue(), node.get("inputs"), node.get("expected"),
                        node.get("tolerance_suggested"), node.get("source").textValue()));
            }
            return cases.stream();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    double number(String name) {
        return number(inputs, name);
    }

    static double number(JsonNode node, String name) {
        return Objects.requireNonNull(node.get(name), name).doubleValue();
    }

    double psi(String name) {
        return UnitOfMeasure.PSI.toSi(number(name));
    }

    double kelvin(String name) {
        return UnitOfMeasure.CELSIUS.toSi(number(name));
    }

    double litres(String name) {
        return UnitOfMeasure.LITRE.toSi(number(name));
    }

    double litresPerMinute(String name) {
        return UnitOfMeasure.LITRE_PER_MINUTE.toSi(number(name));
    }

    /** 101.325 kPa where none is stated. */
    double ambientPa() {
        return inputs.has("ambientKPa") ? 1e3 * number("ambientKPa") : FreeAir.REFERENCE_PA;
    }

    Measured ambient() {
        return exact(ambientPa());
    }

    static Measured exact(double value) {
        return new Measured(value, 0);
    }

    /** Within the tolerance that the case suggests; where it gives two, either is enough. */
    void check(String name, double got) {
        check(name, expected.get(name), got);
    }

    void check(String name, JsonNode node, double got) {
        double wanted = node.doubleValue();
        double slack = Math.max(tolerance.path("relative").asDouble() * Math.abs(wanted), tolerance.path("absolute").asDouble());
        assertEquals(wanted, got, slack, id + " " + name + ": " + source);
    }

    void check(String name, String got) {
        assertEquals(expected.get(name).textValue(), got, id + " " + name + ": " + source);
    }

    @Override
    public String toString() {
        return id + " " + topic;
    }
}
