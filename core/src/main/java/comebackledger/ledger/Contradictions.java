package comebackledger.ledger;

import comebackledger.judge.Warning;
import comebackledger.measure.MeterLine;
import comebackledger.measure.MeterReading;
import comebackledger.trail.UnitMeters;
import comebackledger.trail.UnitView;
import comebackledger.visit.Visit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Predicate;

/**
 * What of a visit contradicts other visits of its unit. A reading is told of where it is left out; and where it is kept though another might as well be
 * kept in its stead, to whoever sent it last: of two that contradict each other nobody knows which is wrong.
 */
final class Contradictions {
    private Contradictions() {}

    /**
     * @param unit with all of its visits
     * @param wasThere whether another visit was recorded when this one was sent
     */
    static List<Warning> of(Visit visit, UnitView unit, Predicate<String> wasThere) {
        List<Warning> warnings = new ArrayList<>();
        new Meter("/meters/odometer", "km", "distances", "odometerReplaced", UnitMeters.MOST_KM_PER_DAY, unit.state().odometer())
                .contradiction(visit.id(), unit.meters().km(), wasThere).ifPresent(warnings::add);
        new Meter("/meters/engineHours", "h", "hours", "engineHoursReplaced", UnitMeters.MOST_HOURS_PER_DAY, unit.state().engineHours())
                .contradiction(visit.id(), unit.meters().engineHours(), wasThere).ifPresent(warnings::add);
        return warnings;
    }

    private record Meter(String pointer, String symbol, String counted, String replacedField, double mostPerDay, List<MeterReading> readings) {
        Optional<Warning> contradiction(String visit, MeterLine line, Predicate<String> wasThere) {
            int own = own(visit);
            if (own < 0 || line.leftOut().isEmpty()) {
                return Optional.empty();
            }
            Optional<MeterReading> other = against(own);
            if (line.leftOut().contains(visit)) {
                return Optional.of(warning(own, other, "Kept, and left out of " + counted + "."));
            }
            return other.filter(found -> wasThere.test(found.visit()) && mightBeLeftOut(own, line))
                    .map(_ -> warning(own, other, "Kept; one of the two is wrong, and the other is left out of " + counted + "."));
        }

        private Warning warning(int own, Optional<MeterReading> other, String which) {
            return new Warning(pointer, other.map(found -> told(readings.get(own), found)).orElse("It contradicts other visits. ") + which
                    + " If the meter was replaced, send " + replacedField + ": true.");
        }

        private int own(String visit) {
            for (int i = 0; i < readings.size(); i++) {
                if (readings.get(i).visit().equals(visit)) {
                    return i;
                }
            }
            return -1;
        }

        /** Without it one less must be left out. */
        private boolean mightBeLeftOut(int own, MeterLine line) {
            if (readings.get(own).replaced()) {
                return false; // a line without it would run across the replacement
            }
            List<MeterReading> others = new ArrayList<>(readings);
            others.remove(own);
            return new MeterLine(others, mostPerDay).leftOut().size() < line.leftOut().size();
        }

        /** The nearest reading of the same meter that it contradicts, the earlier first. */
        private Optional<MeterReading> against(int own) {
            for (int i = own - 1; i >= 0 && !readings.get(i + 1).replaced(); i--) {
                if (contradict(readings.get(i), readings.get(own))) {
                    return Optional.of(readings.get(i));
                }
            }
            for (int i = own + 1; i < readings.size() && !readings.get(i).replaced(); i++) {
                if (contradict(readings.get(own), readings.get(i))) {
                    return Optional.of(readings.get(i));
                }
            }
            return Optional.empty();
        }

        private boolean contradict(MeterReading earlier, MeterReading later) {
            return !new MeterLine(List.of(unreplaced(earlier), unreplaced(later)), mostPerDay).leftOut().isEmpty();
        }

        private static MeterReading unreplaced(MeterReading reading) {
            return new MeterReading(reading.visit(), reading.at(), reading.shown(), false, OptionalDouble.empty());
        }

        private String told(MeterReading own, MeterReading other) {
            double ownShown = own.shown().orElseThrow();
            double otherShown = other.shown().orElseThrow();
            boolean earlier = other.at().isBefore(own.at()) || other.at().equals(own.at()) && readings.indexOf(other) < readings.indexOf(own);
            boolean falls = earlier ? ownShown < otherShown : ownShown > otherShown;
            String beside = ownShown < otherShown ? "is below the " : "is above the ";
            return amount(ownShown) + " " + beside + amount(otherShown) + " of the " + (earlier ? "earlier " : "later ") + other.visit()
                    + (falls ? ". " : " by more than " + amount(mostPerDay) + " a day. ");
        }

        private String amount(double value) {
            return String.format(Locale.ROOT, "%,.0f", value).replace(',', ' ') + " " + symbol;
        }
    }
}
