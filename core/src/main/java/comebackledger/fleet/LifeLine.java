package comebackledger.fleet;

import static comebackledger.measure.MeterLine.daysBetween;

import comebackledger.baseline.Usage;
import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitSummary.Metered;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The life of one unit against one measure, from its first known total: totals as read, straight lines between them, and usage where there is none
 * (beyond the last, and across a replaced meter whose totals do not join).
 */
final class LifeLine {
    /** @param joins whether its total and the one before lie on one unbroken piece */
    private record Known(Instant at, double total, boolean joins) {}

    private final List<Instant> times;
    private final double[] amounts;
    private final double perDay;
    private final boolean bridged;
    private final boolean metered;

    /** @param metered false for days, which need no meter and no estimate */
    private LifeLine(List<Instant> times, double[] amounts, double perDay, boolean bridged, boolean metered) {
        this.times = times;
        this.amounts = amounts;
        this.perDay = perDay;
        this.bridged = bridged;
        this.metered = metered;
    }

    /** From in-service, else the first visit; empty for a unit that was never seen and has no such date. */
    static Optional<LifeLine> ofDays(UnitSummary unit, Instant end) {
        return unit.inServiceAt().or(unit::firstVisitAt).filter(start -> !start.isAfter(end))
                .map(start -> new LifeLine(List.of(start), new double[1], 1, false, false));
    }

    /** Empty where no total is known by the end, or where one is known but no usage. @param peersPerDay usage where the unit has none of its own */
    static Optional<LifeLine> of(UnitSummary unit, Measure measure, Instant end, OptionalDouble peersPerDay) {
        if (measure == Measure.DAYS) {
            return ofDays(unit, end);
        }
        List<Known> known = known(unit, measure, end);
        OptionalDouble own = usage(unit, measure, end);
        OptionalDouble perDay = own.isPresent() ? own : peersPerDay;
        return known.isEmpty() || perDay.isEmpty() ? Optional.empty() : Optional.of(of(known, perDay.getAsDouble()));
    }

    private static LifeLine of(List<Known> known, double perDay) {
        double[] amounts = new double[known.size()];
        boolean bridged = false;
        for (int i = 1; i < amounts.length; i++) {
            Known one = known.get(i - 1);
            Known next = known.get(i);
            bridged |= !next.joins();
            amounts[i] = amounts[i - 1] + (next.joins() ? next.total() - one.total() : perDay * daysBetween(one.at(), next.at()));
        }
        return new LifeLine(known.stream().map(Known::at).toList(), amounts, perDay, bridged, true);
    }

    /** The unit's own usage a day over its recent totals; empty where they tell none. */
    static OptionalDouble usage(UnitSummary unit, Measure measure, Instant end) {
        Usage own = Usage.own(unit, end);
        return switch (measure) {
            case KM -> own.kmPerDay();
            case ENGINE_HOURS -> own.hoursPerDay();
            case DAYS -> OptionalDouble.of(1);
        };
    }

    private static List<Known> known(UnitSummary unit, Measure measure, Instant end) {
        List<Known> found = new ArrayList<>();
        int piece = 0;
        for (Metered visit : unit.visits()) {
            OptionalDouble total = measure == Measure.KM ? visit.km() : visit.engineHours();
            if (total.isPresent() && !visit.at().isAfter(end)) {
                int here = measure == Measure.KM ? visit.kmPiece() : visit.hoursPiece();
                found.add(new Known(visit.at(), total.getAsDouble(), !found.isEmpty() && here == piece));
                piece = here;
            }
        }
        return found;
    }

    Instant start() {
        return times.getFirst();
    }

    /** From the start to an instant not before it. */
    Amount until(Instant at) {
        int i = times.size() - 1;
        while (i > 0 && times.get(i).isAfter(at)) {
            i--;
        }
        double days = daysBetween(times.get(i), at);
        boolean reckoned = days > 0 && metered;
        if (i == times.size() - 1) {
            return new Amount(amounts[i] + perDay * days, bridged || reckoned);
        }
        double share = days / daysBetween(times.get(i), times.get(i + 1));
        return new Amount(amounts[i] + share * (amounts[i + 1] - amounts[i]), bridged || reckoned);
    }

    /** Between two instants; before the start at the unit's usage. */
    double between(Instant from, Instant to) {
        return signed(to) - signed(from);
    }

    private double signed(Instant at) {
        return at.isBefore(start()) ? -perDay * daysBetween(at, start()) : until(at).value();
    }
}
