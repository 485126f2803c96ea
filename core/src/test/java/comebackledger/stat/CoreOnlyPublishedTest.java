package comebackledger.stat;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Named;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The published cases of {@code /stat} that no answer of the wire carries; source and convention stand in each case. */
class CoreOnlyPublishedTest {
    private static JsonNode all(String file) {
        try (InputStream in = CoreOnlyPublishedTest.class.getResourceAsStream("/stat/" + file + ".json")) {
            return new ObjectMapper().readTree(in);
        } catch (IOException e) {
            throw new IllegalStateException(e);
        }
    }

    private static Stream<Named<JsonNode>> cases(String file) {
        return StreamSupport.stream(all(file).spliterator(), false)
                .map(one -> Named.of(one.get("id").asText() + ": " + one.path("source").asText(), one));
    }

    private static JsonNode one(String file, String id) {
        return StreamSupport.stream(all(file).spliterator(), false).filter(one -> one.get("id").asText().equals(id)).findFirst().orElseThrow();
    }

    private static void close(JsonNode expected, double actual, double relative) {
        assertEquals(expected.asDouble(), actual, relative * Math.abs(expected.asDouble()) + 1e-15);
    }

    private static double[] numbers(JsonNode list) {
        return StreamSupport.stream(list.spliterator(), false).mapToDouble(JsonNode::asDouble).toArray();
    }

    static Stream<Named<JsonNode>> timesToReturn() {
        return cases("time_to_return");
    }

    /** 1e-7: the file's tolerance, of optimisers that stop there. */
    @ParameterizedTest
    @MethodSource("timesToReturn")
    void timeToReturn(JsonNode one) {
        List<HoldCurve.Repair> repairs = new ArrayList<>();
        one.get("inputs").get("repairs")
                .forEach(repair -> repairs.add(new HoldCurve.Repair(repair.get("held").asDouble(), repair.get("returned").asBoolean())));

        TimeToReturn.Fit fit = TimeToReturn.of(repairs, 0.95);

        JsonNode expected = one.get("expected");
        if (expected.has("undefined")) {
            assertEquals(Optional.of(expected.get("undefined").asText()), fit.undefined());
            return;
        }
        TimeToReturn law = fit.law().orElseThrow();
        close(expected.get("shape"), law.shape(), 1e-7);
        close(expected.get("scale"), law.scale(), 1e-7);
        close(expected.get("logLikelihood"), law.logLikelihood(), 1e-7);
        close(expected.get("shapeLow"), law.shapeLow(), 1e-7);
        close(expected.get("shapeHigh"), law.shapeHigh(), 1e-7);
        close(expected.get("scaleLow"), law.scaleLow(), 1e-7);
        close(expected.get("scaleHigh"), law.scaleHigh(), 1e-7);
        assertEquals(expected.get("events").asInt(), law.events());
    }

    static Stream<Named<JsonNode>> discriminations() {
        return cases("discrimination");
    }

    @ParameterizedTest
    @MethodSource("discriminations")
    void discrimination(JsonNode one) {
        double[] scores = numbers(one.get("inputs").get("score"));
        double[] told = numbers(one.get("inputs").get("outcome"));
        boolean[] outcomes = new boolean[told.length];
        IntStream.range(0, told.length).forEach(i -> outcomes[i] = told[i] == 1);

        Discrimination discrimination = Discrimination.of(scores, outcomes, 0.95);

        JsonNode expected = one.get("expected");
        if (expected.has("undefined")) {
            assertTrue(discrimination.auc().isEmpty());
            return;
        }
        close(expected.get("auc"), discrimination.auc().orElseThrow(), 1e-9);
        if (expected.has("aucLow")) {
            close(expected.get("aucLow"), discrimination.low().orElseThrow(), 1e-9);
            close(expected.get("aucHigh"), discrimination.high().orElseThrow(), 1e-9);
        }
        expected.path("precisionAt").properties()
                .forEach(at -> close(at.getValue(), Discrimination.precisionAt(scores, outcomes, Integer.parseInt(at.getKey())), 1e-9));
    }

    static Stream<Named<JsonNode>> eTests() {
        return cases("two_rates").filter(named -> named.getPayload().get("expected").has("etest"));
    }

    /** 1e-4: the file's tolerance for the E-test, whose sums are cut. */
    @ParameterizedTest
    @MethodSource("eTests")
    void eTest(JsonNode one) {
        JsonNode first = one.get("inputs").get("first");
        JsonNode second = one.get("inputs").get("second");

        RateETest test = RateETest.of(first.get("events").asInt(), first.get("exposure").asDouble(), second.get("events").asInt(),
                second.get("exposure").asDouble());

        close(one.at("/expected/etest/pValue"), test.pValue(), 1e-4);
        close(one.at("/expected/etest/pValueGreater"), test.pValueGreater(), 1e-4);
    }

    @Test
    void combinedUncertainty() {
        for (String id : List.of("ST-UN-01", "ST-UN-03", "ST-UN-05")) {
            JsonNode one = one("uncertainty", id);
            List<CombinedUncertainty.Component> components = new ArrayList<>();
            one.get("inputs").get("components")
                    .forEach(part -> components.add(new CombinedUncertainty.Component(part.get("standardUncertainty").asDouble(),
                            part.has("degreesOfFreedom") ? OptionalDouble.of(part.get("degreesOfFreedom").asDouble()) : OptionalDouble.empty())));

            CombinedUncertainty combined = CombinedUncertainty.of(components);

            JsonNode expected = one.get("expected");
            close(expected.get("combined"), combined.combined(), 1e-9);
            if (expected.get("effectiveDegreesOfFreedom").isNumber()) {
                close(expected.get("effectiveDegreesOfFreedom"), combined.effectiveDegreesOfFreedom().orElseThrow(), 1e-9);
            } else {
                assertTrue(combined.effectiveDegreesOfFreedom().isEmpty(), id);
            }
            if (expected.has("coverageFactor")) {
                close(expected.get("coverageFactor"), combined.coverageFactor(one.at("/inputs/coverage").asDouble()), 1e-9);
            }
        }
    }

    /** JCGM 100:2008, H.2: resistance V/I cos phase and its fellows from five correlated observations. */
    @Test
    void correlatedUncertainty() {
        JsonNode one = one("uncertainty", "ST-UN-02");
        double[][] readings = {numbers(one.at("/inputs/voltage")), numbers(one.at("/inputs/currentAmpere")), numbers(one.at("/inputs/phaseRadian"))};
        double[] means = new double[3];
        double[][] covariance = new double[3][3];
        for (int i = 0; i < 3; i++) {
            for (double reading : readings[i]) {
                means[i] += reading / readings[i].length;
            }
        }
        for (int i = 0; i < 3; i++) {
            for (int j = 0; j < 3; j++) {
                for (int k = 0; k < 5; k++) {
                    covariance[i][j] += (readings[i][k] - means[i]) * (readings[j][k] - means[j]) / (5 * 4);
                }
            }
        }
        double impedance = means[0] / means[1];
        double cos = Math.cos(means[2]);
        double sin = Math.sin(means[2]);

        double[] resistance = {cos / means[1], -impedance * cos / means[1], -impedance * sin};
        double[] reactance = {sin / means[1], -impedance * sin / means[1], impedance * cos};

        close(one.at("/expected/resistance/combined"), CombinedUncertainty.correlated(resistance, covariance), 1e-9);
        close(one.at("/expected/reactance/combined"), CombinedUncertainty.correlated(reactance, covariance), 1e-9);
        close(one.at("/expected/impedance/combined"),
                CombinedUncertainty.correlated(new double[]{1 / means[1], -impedance / means[1], 0}, covariance), 1e-9);
    }

    @Test
    void limitsAndPairs() {
        JsonNode limits = one("uncertainty", "ST-UN-04");
        for (int i = 0; i < 3; i++) {
            CombinedUncertainty.Shape shape = CombinedUncertainty.Shape.valueOf(limits.at("/inputs/shapes").get(i).asText().toUpperCase(Locale.ROOT));
            close(limits.at("/expected/standardUncertainty").get(i), shape.standardUncertainty(1), 1e-9);
        }
        JsonNode pairs = one("uncertainty", "ST-UN-06");
        close(pairs.at("/expected/repeatability"),
                CombinedUncertainty.repeatability(numbers(pairs.at("/inputs/first")), numbers(pairs.at("/inputs/second"))),
                1e-9);
    }

    @Test
    void runRules_signalWhereNelsonSaysSo() {
        JsonNode one = one("control_chart", "ST-CC-09");
        RunRules[] rules = RunRules.values();
        String[] names = {"one", "nineSameSide", "sixRising", "fourteenAlternating", "twoOfThreeBeyond2", "fourOfFiveBeyond1", "fifteenWithin1",
                "eightOutside1"};
        for (int i = 0; i < rules.length; i++) {
            double[] series = numbers(one.at("/inputs/series/" + names[i]));

            assertEquals(Optional.of(one.at("/expected/firstSignalAt/" + names[i]).asInt()), rules[i].firstSignal(series, 0, 1), names[i]);
            assertEquals(Optional.empty(), rules[i].firstSignal(numbers(one.at("/inputs/series/quiet")), 0, 1), names[i] + " on the quiet series");
        }
    }

    @Test
    void reverseArrangements_criticalCounts() {
        for (JsonNode row : one("event_trend", "ST-ET-21").at("/expected/criticalCounts")) {
            int gaps = row.get("gaps").asInt();

            OptionalInt critical = EventTrend.criticalCount(gaps, row.get("oneSidedLevel").asDouble());

            assertEquals(row.get("lowAtMost").isNull() ? OptionalInt.empty() : OptionalInt.of(row.get("lowAtMost").asInt()), critical,
                    row.toString());
            if (critical.isPresent()) {
                assertEquals(row.get("highAtLeast").asInt(), gaps * (gaps - 1) / 2 - critical.getAsInt(), row.toString());
            }
        }
    }

    @Test
    void powerLaw_pooledOverUnitsObservedAlike() {
        JsonNode one = one("event_trend", "ST-ET-22");
        double[] times = StreamSupport.stream(one.at("/inputs/units").spliterator(), false)
                .flatMap(unit -> StreamSupport.stream(unit.get("events").spliterator(), false)).mapToDouble(JsonNode::asDouble).toArray();

        PowerLaw.Pooled pooled = PowerLaw.pooled(times, 3, 200).orElseThrow();

        close(one.at("/expected/powerLaw/shape"), pooled.shape(), 1e-9);
        close(one.at("/expected/powerLaw/lambdaPerUnit"), pooled.lambdaPerUnit(), 1e-9);
        close(one.at("/expected/powerLaw/shapeUnbiased"), pooled.shapeUnbiased(), 1e-9);
        assertEquals(36, pooled.events());
    }
}
