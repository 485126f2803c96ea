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
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;

/**
 * May this unit go out, for this trip, now? An instant in the past is answered as it would have been known then: visits received later are ignored, and
 * the build, the policy and the baseline are those of that time. A question of now is answered as before while nothing happened and the answer says that it
 * holds ({@link KeptReadiness}).
 */
public final class DispatchDesk {
    private final Ledger ledger;
    private final Derivation derivation;
    private final Map<String, KeptReadiness> kept = new ConcurrentHashMap<>();

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
        Instant now = now(fleet, at);
        Instant instant = at.orElse(now);
        return told(fleet, questions, at, now).stream().map(told -> told.map(answer -> answer.asOf(instant))).toList();
    }

    /** The ledger's clock once what a question at that instant needs is learned, so that the answer knows it. */
    public Instant now(String fleet, Optional<Instant> at) {
        if (at.filter(instant -> instant.isBefore(ledger.now())).isEmpty()) {
            ledger.baselines().learnIfDue(fleet);
        }
        return ledger.now();
    }

    /**
     * One answer a question, in order, as it was first told: its {@code at} may lie before the question.
     *
     * @param now {@link #now}
     */
    public List<Optional<ReadinessAnswer>> told(String fleet, List<Question> questions, Optional<Instant> at, Instant now) {
        return ledger.store().read(fleet, tx -> {
            Asking asking = new Asking(tx, fleet, at.orElse(now));
            if (at.isPresent()) {
                return answers(questions, question -> asking.readiness(question.unit()).map(said -> said.answer(question.trip())));
            }
            Stored.Mark mark = tx.mark();
            KeptReadiness known = kept.computeIfAbsent(fleet, _ -> new KeptReadiness());
            known.follow(tx, mark);
            return answers(questions, question -> {
                Optional<ReadinessAnswer> again = known.find(question, now);
                return again.isPresent() ? again : first(asking, question, known, mark);
            });
        });
    }

    private static List<Optional<ReadinessAnswer>> answers(List<Question> questions, Function<Question, Optional<ReadinessAnswer>> answer) {
        List<Optional<ReadinessAnswer>> answers = new ArrayList<>(questions.size());
        for (Question question : questions) {
            answers.add(answer.apply(question));
        }
        return answers;
    }

    private static Optional<ReadinessAnswer> first(Asking asking, Question question, KeptReadiness known, Stored.Mark mark) {
        Optional<Readiness> said = asking.readiness(question.unit());
        // What was recorded since the clock was read is in this view and not in the answer: that one is told once.
        said.filter(_ -> asking.knewAll(mark)).ifPresent(one -> known.keep(question.unit(), one, mark));
        return said.map(one -> one.answer(question.trip()));
    }

    /** Questions of one instant over one view of the store; what they share is read once. */
    private final class Asking {
        private final Transaction tx;
        private final String fleet;
        private final Instant at;
        private @Nullable Optional<Baseline> baseline;
        private @Nullable RecordedPolicy policy;
        private boolean policyIsLater;
        private boolean past;

        Asking(Transaction tx, String fleet, Instant at) {
            this.tx = tx;
            this.fleet = fleet;
            this.at = at;
        }

        private Optional<Baseline> baseline() {
            Optional<Baseline> known = baseline;
            if (known == null) {
                known = ledger.baselines().asKnown(tx, fleet, at);
                baseline = known;
            }
            return known;
        }

        private RecordedPolicy policy() {
            RecordedPolicy known = policy;
            if (known == null) {
                Optional<Stored.PolicyVersion> newest = tx.policy();
                policyIsLater = newest.filter(row -> row.recordedAt().isAfter(at)).isPresent();
                known = ledger.policy(newest);
                policy = known;
            }
            return known;
        }

        /** Whether the last answer was made of all that its view of the store holds. */
        boolean knewAll(Stored.Mark mark) {
            return !past && baseline().map(Baseline::version).orElse(0) == mark.baseline();
        }

        Optional<Readiness> readiness(String unit) {
            Optional<Stored.UnitVersion> newest = tx.unit(unit);
            if (newest.isEmpty()) {
                return Optional.empty();
            }
            RecordedPolicy current = policy();
            Optional<Stored.Fold> fold = tx.fold(unit);
            // Whether anything that is known now was not known at the instant.
            past = newest.get().recordedAt().isAfter(at) || policyIsLater
                    || fold.flatMap(Stored.Fold::lastReceivedAt).filter(received -> received.isAfter(at)).isPresent();
            if (past) {
                Derivation.Basis basis = basisAsKnown(unit, newest.get());
                return Optional.of(readiness(basis, stateAsKnown(basis), new ArrayList<>()));
            }
            Derivation.Basis basis = new Derivation.Basis(ledger.codec().unit(unit, newest.get().document()), newest.get().version(),
                    current.policy(), current.version());
            Optional<UnitState> whole = fold.filter(basis::made).map(derivation::state);
            if (whole.flatMap(UnitState::lastVisit).filter(last -> last.arrivedAt().isAfter(at)).isEmpty() && whole.isPresent()) {
                return Optional.of(readiness(basis, whole.get(), new ArrayList<>()));
            }
            List<VisitFacts> all = ledger.factsNow(tx, basis);
            UnitState state = Fold.of(all.stream().filter(facts -> !facts.arrivedAt().isAfter(at)).toList(), basis.policy());
            // Visits already known that arrive after the instant change the answer when they do.
            List<Instant> arrivals = new ArrayList<>(all.stream().map(VisitFacts::arrivedAt).filter(arrival -> arrival.isAfter(at)).toList());
            return Optional.of(readiness(basis, state, arrivals));
        }

        private Readiness readiness(Derivation.Basis basis, UnitState state, List<Instant> changes) {
            baseline().map(ledger.baselines()::planned).ifPresent(changes::add);
            Taught taught = Taught.of(basis.unit(), UnitView.of(state, basis.policy(), at), baseline());
            return Readiness.of(basis.unit(), taught, basis.policyVersion(), changes);
        }

        private Derivation.Basis basisAsKnown(String unit, Stored.UnitVersion newest) {
            // Before it was registered the unit had its first build, as far as anyone could say.
            Stored.UnitVersion version = tx.unitAsKnown(unit, at).or(() -> tx.unitVersions(unit).stream().findFirst()).orElse(newest);
            RecordedPolicy known = ledger.policy(tx.policyAsKnown(at));
            return new Derivation.Basis(ledger.codec().unit(unit, version.document()), version.version(), known.policy(), known.version());
        }

        private UnitState stateAsKnown(Derivation.Basis basis) {
            List<Stored.VisitRevision> known = tx.visitsAsKnown(basis.unit().id(), at).stream().filter(visit -> !visit.arrivedAt().isAfter(at))
                    .toList();
            return Fold.of(derivation.judged(basis, known), basis.policy());
        }
    }
}
