package comebackledger.ledger;

import comebackledger.fleet.FleetQuestion;
import comebackledger.fleet.FleetRows;
import comebackledger.fleet.Holds;
import comebackledger.fleet.Measure;
import comebackledger.fleet.Offenders;
import comebackledger.fleet.Patterns;
import comebackledger.fleet.Recurrence;
import comebackledger.trail.Flag;
import comebackledger.trail.UnitSummary;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;

/**
 * Which units keep coming back, what they have in common, which repairs hold, and how episodes add up? Answered from the units' compact rows, in one
 * reading of one moment; an instant in the past is answered as true then, as known now.
 *
 * <p>Answers are kept ({@link KeptAnswers}): over a large fleet one may be told again for a while after a visit came in, with the instant that it is of.
 */
public final class PlannerDesk {
    private final Ledger ledger;
    private final CompactRows rows;
    private final KeptAnswers kept = new KeptAnswers();
    private final Map<String, KeptRows> keptRows = new ConcurrentHashMap<>();

    PlannerDesk(Ledger ledger, CompactRows rows) {
        this.ledger = ledger;
        this.rows = rows;
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
            KeptRows known = keptRows.computeIfAbsent(fleet, _ -> new KeptRows(ledger.codec()));
            Offenders offenders = Offenders.of(use -> known.each(tx, policy.version(), stale, use), asked, policy.policy(), limit);
            return offenders.withFlags(unit -> flags(tx, fleet, unit, asked));
        });
    }

    public Answer<Patterns> patterns(String fleet, Question question) {
        return kept(fleet, question, List.of("patterns"), stored((rows, asked) -> Patterns.of(rows, asked)));
    }

    public Answer<Holds> holds(String fleet, Question question, Holds.Filter filter, Measure measure) {
        return kept(fleet, question, List.of("holds", filter, measure), stored((rows, asked) -> Holds.of(rows, asked, filter, measure)));
    }

    public Answer<Recurrence> recurrence(String fleet, Question question, Measure measure) {
        return kept(fleet, question, List.of("recurrence", measure), stored((rows, asked) -> Recurrence.of(rows, asked, measure)));
    }

    private interface Calculation<T> {
        T of(Transaction tx, RecordedPolicy policy, Function<Stored.Summary, Optional<UnitSummary>> stale, FleetQuestion question);
    }

    private interface OfRows<T> {
        T of(FleetRows rows, FleetQuestion question);
    }

    private <T> Calculation<T> stored(OfRows<T> calculation) {
        return (tx, policy, stale, asked) -> calculation.of(rows.stored(tx, policy, stale), asked);
    }

    /** @param kind which answer, and what else it was asked with */
    private <T> Answer<T> kept(String fleet, Question question, List<Object> kind, Calculation<T> calculation) {
        ledger.baselines().learnIfDue(fleet); // the flags of its units rest on what the fleet teaches
        return kept.answer(List.of(fleet, question, kind), () -> ledger.store().read(fleet, this::standing), ledger::now,
                () -> answer(fleet, question, calculation));
    }

    private KeptAnswers.Standing standing(Transaction tx) {
        return new KeptAnswers.Standing(tx.mark(), tx.policy().map(Stored.PolicyVersion::version).orElse(0));
    }

    private <T> Answer<T> answer(String fleet, Question question, Calculation<T> calculation) {
        FleetQuestion asked = new FleetQuestion(question.group(), question.system(), question.at().orElseGet(ledger::now));
        return rows.read(fleet, (tx, policy, stale) -> new Answer<>(calculation.of(tx, policy, stale, asked), asked.at(), policy.version(),
                tx.mark().baseline()));
    }

    private List<Flag.Kind> flags(Transaction tx, String fleet, String unit, FleetQuestion asked) {
        return tx.unit(unit).stream().flatMap(version -> ledger.standing(tx, fleet, version, asked.at()).view().trails().stream())
                .filter(trail -> asked.system().isEmpty() || asked.system().get().equals(trail.place().system()))
                .flatMap(trail -> trail.flags().stream()).map(Flag::kind).distinct().sorted().toList();
    }
}
