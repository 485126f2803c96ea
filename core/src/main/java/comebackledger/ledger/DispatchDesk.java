package comebackledger.ledger;

import comebackledger.baseline.Baseline;
import comebackledger.baseline.Taught;
import comebackledger.judge.VisitFacts;
import comebackledger.readiness.Readiness;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Trip;
import comebackledger.trail.Fold;
import comebackledger.trail.UnitState;
import comebackledger.trail.UnitView;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * May this unit go out, for this trip, now? An instant in the past is answered as it would have been known then: visits received later are ignored, and
 * the build, the policy and the baseline are those of that time.
 */
public final class DispatchDesk {
    private final Ledger ledger;
    private final Derivation derivation;

    DispatchDesk(Ledger ledger, Derivation derivation) {
        this.ledger = ledger;
        this.derivation = derivation;
    }

    /** One unit asked about. */
    public record Question(String unit, Trip trip) {}

    /** The answer, or empty for a unit that is not registered. */
    public Optional<ReadinessAnswer> readiness(String fleet, Question question, Optional<Instant> at) {
        return readiness(fleet, List.of(question), at).getFirst();
    }

    /** One answer a question, in order. */
    public List<Optional<ReadinessAnswer>> readiness(String fleet, List<Question> questions, Optional<Instant> at) {
        if (at.filter(instant -> instant.isBefore(ledger.now())).isEmpty()) {
            ledger.baselines().learnIfDue(fleet);
        }
        Instant instant = at.orElseGet(ledger::now);
        return ledger.store().read(fleet, tx -> {
            Optional<Baseline> baseline = ledger.baselines().asKnown(tx, fleet, instant);
            return questions.stream().map(question -> answer(tx, question, instant, baseline)).toList();
        });
    }

    private Optional<ReadinessAnswer> answer(Transaction tx, Question question, Instant at, Optional<Baseline> baseline) {
        Optional<Stored.UnitVersion> newest = tx.unit(question.unit());
        if (newest.isEmpty()) {
            return Optional.empty();
        }
        boolean past = isPast(tx, newest.get(), at);
        Derivation.Basis basis = past ? basisAsKnown(tx, question.unit(), newest.get(), at) : ledger.basis(tx, newest.get());
        UnitState state = past ? stateAsKnown(tx, basis, at) : ledger.stateAt(tx, basis, at);
        List<Instant> changes = new ArrayList<>();
        baseline.map(ledger.baselines()::planned).ifPresent(changes::add);
        if (!past && (state.visits() > 0 || tx.fold(question.unit()).isPresent())) {
            changes.addAll(arrivalsAfter(tx, basis, at));
        }
        Taught taught = Taught.of(basis.unit(), UnitView.of(state, basis.policy(), at), baseline);
        return Optional.of(Readiness.answer(basis.unit(), taught, basis.policyVersion(), question.trip(), changes));
    }

    /** Whether anything that is known now was not known at the instant. */
    private boolean isPast(Transaction tx, Stored.UnitVersion newest, Instant at) {
        boolean unitLater = newest.recordedAt().isAfter(at);
        boolean policyLater = tx.policy().filter(policy -> policy.recordedAt().isAfter(at)).isPresent();
        boolean visitLater = tx.fold(newest.unit()).flatMap(Stored.Fold::lastReceivedAt).filter(received -> received.isAfter(at)).isPresent();
        return unitLater || policyLater || visitLater;
    }

    private Derivation.Basis basisAsKnown(Transaction tx, String unit, Stored.UnitVersion newest, Instant at) {
        // Before it was registered the unit had its first build, as far as anyone could say.
        Stored.UnitVersion version = tx.unitAsKnown(unit, at).or(() -> tx.unitVersions(unit).stream().findFirst()).orElse(newest);
        RecordedPolicy policy = ledger.policy(tx.policyAsKnown(at));
        return new Derivation.Basis(ledger.codec().unit(unit, version.document()), version.version(), policy.policy(), policy.version());
    }

    private UnitState stateAsKnown(Transaction tx, Derivation.Basis basis, Instant at) {
        List<Stored.VisitRevision> known = tx.visitsAsKnown(basis.unit().id(), at).stream().filter(visit -> !visit.arrivedAt().isAfter(at)).toList();
        return Fold.of(derivation.judged(basis, known), basis.policy());
    }

    /** Visits already known that arrive after the instant change the answer when they do. */
    private List<Instant> arrivalsAfter(Transaction tx, Derivation.Basis basis, Instant at) {
        Optional<Stored.Fold> fold = tx.fold(basis.unit().id()).filter(basis::made);
        boolean none = fold.map(derivation::state).flatMap(UnitState::lastVisit).filter(last -> last.arrivedAt().isAfter(at)).isEmpty();
        return none ? List.of() : ledger.factsNow(tx, basis).stream().map(VisitFacts::arrivedAt).filter(arrival -> arrival.isAfter(at)).toList();
    }
}
