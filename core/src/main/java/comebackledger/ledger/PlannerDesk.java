package comebackledger.ledger;

import comebackledger.baseline.Taught;
import comebackledger.fleet.FleetQuestion;
import comebackledger.fleet.FleetRows;
import comebackledger.fleet.Holds;
import comebackledger.fleet.Measure;
import comebackledger.fleet.Offenders;
import comebackledger.fleet.Patterns;
import comebackledger.fleet.Recurrence;
import comebackledger.trail.Flag;
import comebackledger.trail.Fold;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;

/**
 * Which units keep coming back, what they have in common, which repairs hold, and how episodes add up? Answered from the units' compact rows, in one
 * reading of one moment; an instant in the past is answered as true then, as known now.
 *
 * <p>Answers are kept ({@link KeptAnswers}): over a large fleet one may be told again for a while after a visit came in, with the instant that it is of.
 *
 * <p>A row is stamped with the policy that it was folded under. Rows left behind by a change of policy are folded again and kept before the answer is
 * given, as is a row that cannot be read. A change of the build needs no such care: it refolds its unit in its own transaction.
 */
public final class PlannerDesk {
    private final Ledger ledger;
    private final Derivation derivation;
    private final KeptAnswers kept = new KeptAnswers();
    private final Map<String, KeptRows> keptRows = new ConcurrentHashMap<>();

    PlannerDesk(Ledger ledger, Derivation derivation) {
        this.ledger = ledger;
        this.derivation = derivation;
    }

    /** Of whom and of when; without an instant, of now. */
    public record Question(Optional<String> group, Optional<String> system, Optional<Instant> at) {}

    /**
     * An answer with its grounds.
     *
     * @param asOf the instant that it is of
     * @param baselineVersion 0 until the fleet has taught one
     */
    public record Answer<T>(T content, Instant asOf, int policyVersion, int baselineVersion) {}

    /** @param limit how many units to tell, the worst first */
    public Answer<Offenders> offenders(String fleet, Question question, int limit) {
        return kept(fleet, question, List.of("offenders", limit), (tx, policy, stale, asked) -> {
            KeptRows rows = keptRows.computeIfAbsent(fleet, _ -> new KeptRows(ledger.codec()));
            Offenders offenders = Offenders.of(use -> rows.each(tx, policy.version(), stale, use), asked, policy.policy(), limit);
            return offenders.withFlags(unit -> flags(tx, fleet, unit, asked));
        });
    }

    public Answer<Patterns> patterns(String fleet, Question question) {
        return kept(fleet, question, List.of("patterns"), read((rows, asked) -> Patterns.of(rows, asked)));
    }

    public Answer<Holds> holds(String fleet, Question question, Holds.Filter filter, Measure measure) {
        return kept(fleet, question, List.of("holds", filter, measure), read((rows, asked) -> Holds.of(rows, asked, filter, measure)));
    }

    public Answer<Recurrence> recurrence(String fleet, Question question, Measure measure) {
        return kept(fleet, question, List.of("recurrence", measure), read((rows, asked) -> Recurrence.of(rows, asked, measure)));
    }

    private interface Calculation<T> {
        T of(Transaction tx, RecordedPolicy policy, Function<Stored.Summary, Optional<UnitSummary>> stale, FleetQuestion question);
    }

    private interface OfRows<T> {
        T of(FleetRows rows, FleetQuestion question);
    }

    /** Of all rows as they are stored. */
    private <T> Calculation<T> read(OfRows<T> calculation) {
        return (tx, policy, stale, asked) -> calculation.of(use -> tx.eachSummary(row -> {
            KeptRows.sound(ledger.codec(), row, policy.version()).or(() -> stale.apply(row)).ifPresent(use);
        }), asked);
    }

    /** @param kind which answer, and what else it was asked with */
    private <T> Answer<T> kept(String fleet, Question question, List<Object> kind, Calculation<T> calculation) {
        return kept.answer(List.of(fleet, question, kind), () -> ledger.store().read(fleet, this::standing), ledger::now,
                () -> answer(fleet, question, calculation));
    }

    private KeptAnswers.Standing standing(Transaction tx) {
        return new KeptAnswers.Standing(tx.mark(), tx.policy().map(Stored.PolicyVersion::version).orElse(0));
    }

    private <T> Answer<T> answer(String fleet, Question question, Calculation<T> calculation) {
        FleetQuestion asked = new FleetQuestion(question.group(), question.system(), question.at().orElseGet(ledger::now));
        List<String> stale = new ArrayList<>();
        Answer<T> answer = ledger.store().read(fleet, tx -> {
            stale.clear();
            return answer(tx, asked, calculation, row -> {
                stale.add(row.unit());
                return Optional.empty();
            });
        });
        if (stale.isEmpty()) {
            return answer;
        }
        stale.forEach(unit -> refold(fleet, unit));
        return ledger.store().read(fleet, tx -> answer(tx, asked, calculation, row -> refolded(tx, row.unit())));
    }

    private <T> Answer<T> answer(Transaction tx, FleetQuestion asked, Calculation<T> calculation,
            Function<Stored.Summary, Optional<UnitSummary>> stale) {
        RecordedPolicy policy = ledger.policy(tx);
        return new Answer<>(calculation.of(tx, policy, stale, asked), asked.at(), policy.version(), tx.mark().baseline());
    }

    private void refold(String fleet, String unit) {
        ledger.store().write(fleet, tx -> {
            tx.lock(new TreeSet<>(List.of(unit)));
            return tx.unit(unit).map(version -> derivation.rebuild(tx, ledger.basis(tx, version)));
        });
    }

    /** For a row that another writer left behind once more. */
    private Optional<UnitSummary> refolded(Transaction tx, String unit) {
        return tx.unit(unit).map(version -> {
            Derivation.Basis basis = ledger.basis(tx, version);
            return UnitSummary.of(basis.unit(), Fold.of(derivation.judged(basis, tx.visits(unit)), basis.policy()), basis.policy());
        });
    }

    private List<Flag.Kind> flags(Transaction tx, String fleet, String unit, FleetQuestion asked) {
        return tx.unit(unit).stream().flatMap(version -> ledger.standing(tx, fleet, version, asked.at()).view().trails().stream())
                .filter(trail -> asked.system().isEmpty() || asked.system().get().equals(trail.place().system()))
                .flatMap(trail -> trail.flags().stream()).map(Flag::kind).distinct().sorted().toList();
    }
}
