package comebackledger.readiness;

import comebackledger.baseline.Outlook;
import comebackledger.baseline.Taught;
import comebackledger.policy.Policy;
import comebackledger.policy.ReadinessPolicy;
import comebackledger.trail.Clock;
import comebackledger.trail.Flag;
import comebackledger.trail.LastVisit;
import comebackledger.trail.UnitView;
import comebackledger.unit.Build;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * What is to be said of one unit at an instant, whatever the trip; the trip asked for adds its risk and its drift. Collects the reasons; the heaviest
 * decides. Small, so that it can be kept and asked again while it holds.
 */
public final class Readiness {
    /** However quiet things are, the answer is asked for again after this. */
    static final Duration VALID_AT_MOST = Duration.ofHours(24);
    private static final Comparator<Reason> BY_KIND_AND_PLACE = Comparator.comparing(Reason::kind)
            .thenComparing(reason -> reason.place().orElse(""));

    private final String unit;
    private final Instant at;
    private final Instant holdsUntil;
    private final List<Reason> reasons;
    private final Outlook outlook;
    private final ReadinessPolicy policy;
    private final int policyVersion;
    private final int visits;
    private final Optional<LastVisit> lastVisit;

    private Readiness(String unit, Supplier<Build> build, Taught taught, int policyVersion, List<Instant> alsoChangesAt) {
        UnitView view = taught.view();
        this.unit = unit;
        this.at = view.at();
        this.holdsUntil = holdsUntil(view, alsoChangesAt);
        this.reasons = List.copyOf(Reasons.of(build, view).stream().sorted(BY_KIND_AND_PLACE).toList());
        this.outlook = taught.outlook();
        this.policy = view.policy().readiness();
        this.policyVersion = policyVersion;
        this.visits = view.state().visits();
        this.lastVisit = view.state().lastVisit();
    }

    /**
     * @param build of the unit; asked for where a fault of a network must be weighed
     * @param alsoChangesAt instants at which something outside the unit changes the answer, such as the next planned baseline
     */
    public static Readiness of(String unit, Supplier<Build> build, Taught taught, int policyVersion, List<Instant> alsoChangesAt) {
        return new Readiness(unit, build, taught, policyVersion, alsoChangesAt);
    }

    public String unit() {
        return unit;
    }

    /** When it was said. */
    public Instant at() {
        return at;
    }

    /** The first instant at which something else is to be said with no new evidence, at most 24 h ahead; an answer for one trip may end earlier. */
    public Instant holdsUntil() {
        return holdsUntil;
    }

    /** The answer for one trip. */
    public ReadinessAnswer answer(Trip trip) {
        Outlook.Trip asked = trip.or(policy.standardTripKm());
        Outlook.Answer chance = outlook.at(at, asked);
        Optional<Risk> risk = Risk.of(chance, asked);
        List<Reason> all = withTrip(outlook.driftingOn(asked), risk.flatMap(known -> Reasons.ofRisk(known, policy)));
        Answer answer = Answer.READY;
        for (Reason reason : all) {
            answer = reason.weight().compareTo(answer) > 0 ? reason.weight() : answer;
        }
        Instant until = holdsUntil;
        for (Instant change : outlook.changes(asked)) {
            until = change.isAfter(at) && change.isBefore(until) ? change : until;
        }
        double probability = risk.isPresent() ? risk.get().probability() : 0;
        return new ReadinessAnswer(unit, answer, at, firstCrossing(asked, band(probability), until), policyVersion, all, risk, Risk.absent(chance),
                visits, lastVisit);
    }

    private List<Reason> withTrip(List<Flag> drifting, Optional<Reason> ofRisk) {
        if (drifting.isEmpty() && ofRisk.isEmpty()) {
            return reasons;
        }
        List<Reason> all = new ArrayList<>(reasons);
        drifting.forEach(flag -> all.add(Reasons.ofDrift(flag)));
        ofRisk.ifPresent(all::add);
        all.sort(BY_KIND_AND_PLACE);
        return List.copyOf(all);
    }

    private int band(double probability) {
        return probability >= policy.riskHold() ? 2 : probability >= policy.riskCaution() ? 1 : 0;
    }

    private int band(Outlook.Trip trip, Instant instant) {
        return band(outlook.probability(instant, trip).orElse(0));
    }

    private static Instant holdsUntil(UnitView view, List<Instant> alsoChangesAt) {
        Instant at = view.at();
        List<Instant> candidates = new ArrayList<>(alsoChangesAt);
        candidates.add(at.plus(VALID_AT_MOST));
        candidates.addAll(view.changes());
        view.state().lastVisit().ifPresent(last -> {
            candidates.add(Clock.passedFrom(Clock.limit(last.arrivedAt(), view.policy().evidenceMaxAgeDays())));
            last.releasedAt().ifPresent(candidates::add);
        });
        return candidates.stream().filter(instant -> instant.isAfter(at)).min(Comparator.naturalOrder()).orElseThrow();
    }

    /** The first whole second at which the risk is in another band than now; risk moves slowly, so the ends and the halves tell. */
    private Instant firstCrossing(Outlook.Trip trip, int now, Instant until) {
        Instant lastSame = at;
        Instant firstOther = until.minusSeconds(1);
        if (!firstOther.isAfter(at) || band(trip, firstOther) == now) {
            return until;
        }
        while (Duration.between(lastSame, firstOther).toSeconds() > 1) {
            Instant middle = lastSame.plus(Duration.between(lastSame, firstOther).dividedBy(2));
            if (band(trip, middle) == now) {
                lastSame = middle;
            } else {
                firstOther = middle;
            }
        }
        return firstOther;
    }

    /** Whether the last visit is older than evidence may be. */
    static boolean tooOld(LastVisit last, Policy policy, Instant at) {
        return Clock.passed(Clock.limit(last.arrivedAt(), policy.evidenceMaxAgeDays()), at);
    }
}
