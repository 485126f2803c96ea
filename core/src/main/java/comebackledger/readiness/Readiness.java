package comebackledger.readiness;

import comebackledger.baseline.Outlook;
import comebackledger.baseline.Taught;
import comebackledger.policy.Policy;
import comebackledger.trail.Clock;
import comebackledger.trail.LastVisit;
import comebackledger.trail.UnitView;
import comebackledger.unit.Unit;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** Collects the reasons; the heaviest decides. */
public final class Readiness {
    /** However quiet things are, the answer is asked for again after this. */
    static final Duration VALID_AT_MOST = Duration.ofHours(24);

    private Readiness() {}

    /** @param alsoChangesAt instants at which something outside the unit changes the answer, such as the next planned baseline */
    public static ReadinessAnswer answer(Unit unit, Taught taught, int policyVersion, Trip trip, List<Instant> alsoChangesAt) {
        UnitView view = taught.view();
        Instant at = view.at();
        Policy policy = view.policy();
        Outlook.Trip asked = trip.or(policy.readiness().standardTripKm());
        Outlook.Answer outlook = taught.chance(asked, at);
        Optional<Risk> now = Risk.of(outlook, asked);
        List<Reason> reasons = new ArrayList<>(Reasons.of(unit, view, taught.driftingOn(asked)));
        now.flatMap(known -> Reasons.ofRisk(known, policy.readiness())).ifPresent(reasons::add);
        reasons.sort(Comparator.comparing((Reason reason) -> reason.kind()).thenComparing(reason -> reason.place().orElse("")));
        Answer answer = reasons.stream().map(Reason::weight).max(Comparator.naturalOrder()).orElse(Answer.READY);
        List<Instant> changes = new ArrayList<>(alsoChangesAt);
        changes.addAll(taught.changes(asked));
        Instant until = validUntil(view, changes, instant -> band(Risk.of(taught.chance(asked, instant), asked), policy));
        return new ReadinessAnswer(unit.id(), answer, at, until, policyVersion, List.copyOf(reasons), now, Risk.absent(outlook),
                view.state().visits(),
                view.state().lastVisit());
    }

    private static int band(Optional<Risk> risk, Policy policy) {
        double probability = risk.map(Risk::probability).orElse(0.0);
        return probability >= policy.readiness().riskHold() ? 2 : probability >= policy.readiness().riskCaution() ? 1 : 0;
    }

    private static Instant validUntil(UnitView view, List<Instant> alsoChangesAt, Function<Instant, Integer> riskBand) {
        Instant at = view.at();
        List<Instant> candidates = new ArrayList<>(alsoChangesAt);
        candidates.add(at.plus(VALID_AT_MOST));
        candidates.addAll(view.changes());
        view.state().lastVisit().ifPresent(last -> {
            candidates.add(Clock.passedFrom(Clock.limit(last.arrivedAt(), view.policy().evidenceMaxAgeDays())));
            last.releasedAt().ifPresent(candidates::add);
        });
        Instant until = candidates.stream().filter(instant -> instant.isAfter(at)).min(Comparator.naturalOrder()).orElseThrow();
        return firstCrossing(at, until, riskBand);
    }

    /** The first whole second at which the risk is in another band than now; risk moves slowly, so the ends and the halves tell. */
    private static Instant firstCrossing(Instant at, Instant until, Function<Instant, Integer> riskBand) {
        int now = riskBand.apply(at);
        Instant lastSame = at;
        Instant firstOther = until.minusSeconds(1);
        if (!firstOther.isAfter(at) || riskBand.apply(firstOther) == now) {
            return until;
        }
        while (Duration.between(lastSame, firstOther).toSeconds() > 1) {
            Instant middle = lastSame.plus(Duration.between(lastSame, firstOther).dividedBy(2));
            if (riskBand.apply(middle) == now) {
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
