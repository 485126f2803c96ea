package comebackledger.fleet;

import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;

/**
 * One unit up to the instant asked about.
 *
 * @param end that instant, or its retirement
 */
record Observed(UnitSummary unit, Instant end, Usual usual) {
    /**
     * Reads the rows once. A unit whose meter tells no usage of its own waits until its peers' are known, so the order of calls is not that of the rows.
     *
     * @param measure that the calls will ask for; days ask no meter
     */
    static void each(FleetRows rows, FleetQuestion question, Measure measure, Consumer<Observed> use) {
        Usual usual = new Usual();
        List<Observed> waiting = new ArrayList<>();
        rows.each(unit -> {
            Observed observed = new Observed(unit, end(unit, question.at()), usual);
            OptionalDouble own = LifeLine.usage(unit, measure, observed.end());
            own.ifPresent(perDay -> usual.add(unit.group(), perDay));
            if (question.asksOf(unit)) {
                if (own.orElse(0) > 0) {
                    use.accept(observed);
                } else {
                    waiting.add(observed);
                }
            }
        });
        waiting.forEach(use);
    }

    private static Instant end(UnitSummary unit, Instant at) {
        return unit.retiredAt().filter(retired -> retired.isBefore(at)).orElse(at);
    }

    Optional<LifeLine> line(Measure measure) {
        return LifeLine.of(unit, measure, end, this::usualPerDay);
    }

    /** Of its peers, in the measure that the rows are read for. */
    OptionalDouble usualPerDay() {
        return usual.perDay(unit.group());
    }

    /** The line's whole length; empty where it has none. */
    Optional<Amount> exposure(Measure measure) {
        return line(measure).map(line -> line.until(end)).filter(amount -> amount.value() > 0);
    }
}
