package comebackledger.fleet;

import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * One unit up to the instant asked about.
 *
 * @param end that instant, or its retirement
 */
record Observed(UnitSummary unit, Instant end, Usual usual) {
    /**
     * Reads the rows once. A unit whose meters tell no usage of its own waits until its peers' are known, so the order of calls is not that of the rows.
     */
    static void each(FleetRows rows, FleetQuestion question, Consumer<Observed> use) {
        Usual usual = new Usual();
        List<Observed> waiting = new ArrayList<>();
        rows.each(unit -> {
            Observed observed = new Observed(unit, end(unit, question.at()), usual);
            boolean tells = observed.teach(Measure.KM) & observed.teach(Measure.ENGINE_HOURS);
            if (question.asksOf(unit)) {
                if (tells) {
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

    private boolean teach(Measure measure) {
        var own = LifeLine.usage(unit, measure, end);
        own.ifPresent(perDay -> usual.add(measure, unit.group(), perDay));
        return own.isPresent();
    }

    Optional<LifeLine> line(Measure measure) {
        return LifeLine.of(unit, measure, end, usual.perDay(measure, unit.group()));
    }

    /** The line's whole length; empty where it has none. */
    Optional<Amount> exposure(Measure measure) {
        return line(measure).map(line -> line.until(end)).filter(amount -> amount.value() > 0);
    }
}
