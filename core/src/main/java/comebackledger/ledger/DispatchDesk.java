package comebackledger.ledger;

import comebackledger.baseline.Baseline;
import comebackledger.baseline.Taught;
import comebackledger.judge.VisitFacts;
import comebackledger.readiness.Readiness;
import comebackledger.readiness.ReadinessAnswer;
import comebackledger.readiness.Trip;
import comebackledger.trail.Fold;
import comebackledger.trail.UnitState;
import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitView;
import comebackledger.unit.Build;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/**
 * May this unit go out, for this trip, now? An instant in the past is answered as it would have been known then: visits received later are ignored, and
 * the build, the policy and the baseline are those of that time. A question of now is answered as before while nothing happened and the answer says that it
 * holds ({@link KeptReadiness}).
 */
public final class DispatchDesk {
    private static final int UNITS_A_PAGE = 100; // common practice, no source

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
        KeptReadiness known = known(fleet);
        Optional<ReadinessAnswer> again = at.isEmpty() && questions.size() == 1
                ? toldAgain(fleet, known, questions.getFirst(), now)
                : Optional.empty();
        List<Optional<ReadinessAnswer>> told = again.isPresent() ? List.of(again) : toldFromStore(fleet, known, questions, at, now);
        known.fill(() -> fill(fleet, known));
        return told;
    }

    /** Without a transaction, where the store knows how far it has come without one. */
    private Optional<ReadinessAnswer> toldAgain(String fleet, KeptReadiness known, Question question, Instant now) {
        return known.standsAt(ledger.store().mark(fleet)) ? known.find(question, now) : Optional.empty();
    }

    private List<Optional<ReadinessAnswer>> toldFromStore(String fleet, KeptReadiness known, List<Question> questions, Optional<Instant> at,
            Instant now) {
        return ledger.store().read(fleet, tx -> {
            Stored.Mark mark = tx.mark();
            Asking asking = new Asking(tx, fleet, mark, at.orElse(now));
            if (at.isPresent()) {
                return answers(questions, question -> asking.readiness(question.unit()).map(said -> said.answer(question.trip())));
            }
            known.follow(tx, mark);
            return answers(questions, question -> {
                Optional<ReadinessAnswer> again = known.find(question, now);
                return again.isPresent() ? again : asking.first(question.unit(), known).map(said -> said.answer(question.trip()));
            });
        });
    }

    private KeptReadiness known(String fleet) {
        KeptReadiness known = kept.get(fleet);
        return known != null ? known : begun(fleet);
    }

    /** The fleets that were asked about share the room. */
    private synchronized KeptReadiness begun(String fleet) {
        KeptReadiness known = kept.computeIfAbsent(fleet, _ -> new KeptReadiness());
        kept.values().forEach(one -> one.room(KeptReadiness.KEPT_AT_MOST / kept.size()));
        return known;
    }

    private static List<Optional<ReadinessAnswer>> answers(List<Question> questions, Function<Question, Optional<ReadinessAnswer>> answer) {
        List<Optional<ReadinessAnswer>> answers = new ArrayList<>(questions.size());
        for (Question question : questions) {
            answers.add(answer.apply(question));
        }
        return answers;
    }

    /** Looks at every unit that is not known, as if it were asked about, until there is room for no more. */
    private void fill(String fleet, KeptReadiness known) {
        Optional<String> after = Optional.empty();
        List<String> page;
        do {
            Optional<String> from = after;
            page = ledger.store().read(fleet, tx -> {
                Stored.Mark mark = tx.mark();
                known.follow(tx, mark);
                Asking asking = new Asking(tx, fleet, mark, ledger.now());
                List<Stored.UnitVersion> units = tx.units(from, UNITS_A_PAGE);
                units.stream().filter(unit -> !known.holds(unit.unit(), ledger.now())).forEach(unit -> asking.ahead(unit, known));
                return units.stream().map(Stored.UnitVersion::unit).toList();
            });
            after = page.isEmpty() ? after : Optional.of(page.getLast());
        } while (page.size() == UNITS_A_PAGE && known.hasRoom());
    }

    /** Questions of one instant over one view of the store; what they share is read once. */
    private final class Asking {
        private final Transaction tx;
        private final String fleet;
        private final Stored.Mark mark;
        private final Instant at;
        private @Nullable Optional<Baseline> baseline;
        private @Nullable Instant planned;
        private @Nullable RecordedPolicy policy;
        private boolean policyIsLater;
        private boolean past;

        Asking(Transaction tx, String fleet, Stored.Mark mark, Instant at) {
            this.tx = tx;
            this.fleet = fleet;
            this.mark = mark;
            this.at = at;
        }

        private Optional<Baseline> baseline() {
            Optional<Baseline> known = baseline;
            if (known == null) {
                known = ledger.baselines().asKnown(tx, fleet, mark, at);
                baseline = known;
            }
            return known;
        }

        private Instant planned(Baseline known) {
            Instant next = planned;
            if (next == null) {
                next = ledger.baselines().planned(known);
                planned = next;
            }
            return next;
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
        private boolean knewAll() {
            return !past && baseline().map(Baseline::version).orElse(0) == mark.baseline();
        }

        Optional<Readiness> first(String unit, KeptReadiness known) {
            Optional<Stored.UnitVersion> newest = tx.unit(unit);
            Optional<Readiness> said = newest.map(this::readiness);
            said.ifPresent(one -> keep(one, known));
            return said;
        }

        /** As if it were asked about, where that costs little. */
        void ahead(Stored.UnitVersion newest, KeptReadiness known) {
            fromRow(newest).ifPresent(one -> keep(one, known));
        }

        /** Unless something was recorded since the clock was read: that is in this view and not in the answer, which is told once then. */
        private void keep(Readiness said, KeptReadiness known) {
            if (knewAll()) {
                known.keep(said, mark);
            }
        }

        Optional<Readiness> readiness(String unit) {
            return tx.unit(unit).map(this::readiness);
        }

        private Readiness readiness(Stored.UnitVersion newest) {
            return fromRow(newest).orElseGet(() -> fromEvidence(newest));
        }

        /** From the kept fold; empty where it does not stand for the instant. */
        private Optional<Readiness> fromRow(Stored.UnitVersion newest) {
            RecordedPolicy current = policy();
            Optional<Stored.Fold> fold = tx.fold(newest.unit());
            // Whether anything that is known now was not known at the instant.
            past = newest.recordedAt().isAfter(at) || policyIsLater
                    || fold.flatMap(Stored.Fold::lastReceivedAt).filter(received -> received.isAfter(at)).isPresent();
            if (past || fold.isEmpty() || !Derivation.made(fold.get(), newest.version(), current.version())) {
                return Optional.empty();
            }
            UnitState state = derivation.state(fold.get());
            if (state.lastVisit().filter(last -> last.arrivedAt().isAfter(at)).isPresent()) {
                return Optional.empty();
            }
            UnitSummary summary = ledger.codec().decode(fold.get().summary(), UnitSummary.class);
            Supplier<Build> build = () -> ledger.codec().unit(newest.unit(), newest.document()).build();
            return Optional
                    .of(readiness(newest.unit(), build, UnitView.of(state, current.policy(), at), summary, current.version(), List.of()));
        }

        private Readiness fromEvidence(Stored.UnitVersion newest) {
            if (past) {
                Derivation.Basis basis = basisAsKnown(newest);
                return readiness(basis, stateAsKnown(basis), List.of());
            }
            RecordedPolicy current = policy();
            Derivation.Basis basis = new Derivation.Basis(ledger.codec().unit(newest.unit(), newest.document()), newest.version(), current.policy(),
                    current.version());
            List<VisitFacts> all = ledger.factsNow(tx, basis);
            UnitState state = Fold.of(all.stream().filter(facts -> !facts.arrivedAt().isAfter(at)).toList(), basis.policy());
            // Visits already known that arrive after the instant change the answer when they do.
            return readiness(basis, state, all.stream().map(VisitFacts::arrivedAt).filter(arrival -> arrival.isAfter(at)).toList());
        }

        private Readiness readiness(Derivation.Basis basis, UnitState state, List<Instant> arrivals) {
            UnitView view = UnitView.of(state, basis.policy(), at);
            return readiness(basis.unit().id(), basis.unit()::build, view, UnitSummary.of(basis.unit(), view), basis.policyVersion(), arrivals);
        }

        private Readiness readiness(String unit, Supplier<Build> build, UnitView view, UnitSummary summary, int policyVersion,
                List<Instant> arrivals) {
            List<Instant> changes = new ArrayList<>(arrivals);
            baseline().ifPresent(known -> changes.add(planned(known)));
            return Readiness.of(unit, build, Taught.of(view, summary, baseline()), policyVersion, changes);
        }

        private Derivation.Basis basisAsKnown(Stored.UnitVersion newest) {
            String unit = newest.unit();
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
