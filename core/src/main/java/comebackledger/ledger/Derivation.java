package comebackledger.ledger;

import comebackledger.judge.BusAnswers;
import comebackledger.judge.CodeMemory;
import comebackledger.judge.JudgedVisit;
import comebackledger.judge.VisitFacts;
import comebackledger.judge.VisitJudge;
import comebackledger.policy.Policy;
import comebackledger.trail.Fold;
import comebackledger.trail.UnitState;
import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitView;
import comebackledger.unit.Unit;
import comebackledger.visit.Visit;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/** Derived rows from evidence: judging, stepping in order, and refolding when a visit is late, revised, or judged under other versions. */
final class Derivation {
    private final Codec codec;
    private final BusAnswers answers = new BusAnswers();

    Derivation(Codec codec) {
        this.codec = codec;
    }

    /** A unit's build and the fleet's policy, with the versions that derived rows are stamped with. */
    record Basis(Unit unit, int unitVersion, Policy policy, int policyVersion) {
        boolean made(Stored.Fold fold) {
            return Derivation.made(fold, unitVersion, policyVersion);
        }
    }

    /** Whether a row was made under these versions. */
    static boolean made(Stored.Fold fold, int unitVersion, int policyVersion) {
        return fold.unitVersion() == unitVersion && fold.policyVersion() == policyVersion;
    }

    /**
     * What a change of evidence made of the unit.
     *
     * @param after the unit with all of its visits
     * @param view of the same, at the end of time; empty where the visit only ran on from the ones before it: nobody had to look at the whole,
     *     and no reading contradicts it that would not be left out without it
     * @param summary the compact row of the same
     * @param visit the visit that was recorded, where it was judged on the way
     */
    record Derived(UnitState before, UnitState after, Optional<UnitView> view, UnitSummary summary, Optional<Judged> visit) {}

    /** A visit judged by itself, and the codes seen before it. */
    record Judged(JudgedVisit visit, CodeMemory codesBefore) {}

    /** The rows after one appended revision. */
    Derived follow(Transaction tx, Basis basis, Stored.VisitRevision revision, Visit visit, boolean isNew) {
        String unit = basis.unit().id();
        Optional<Stored.Fold> kept = tx.fold(unit).filter(basis::made);
        UnitState before = kept.map(this::state).orElse(UnitState.EMPTY);
        if (kept.isEmpty() && (!isNew || hasOtherVisits(tx, unit, revision.visit()))) {
            return rebuild(tx, basis);
        }
        Optional<Instant> receivedAt = later(kept.flatMap(Stored.Fold::lastReceivedAt), revision.receivedAt());
        if (visit.voided()) {
            tx.dropFacts(unit, revision.visit());
            UnitState after = isNew ? before : Fold.of(facts(tx, unit), basis.policy());
            return keep(tx, basis, before, after, receivedAt, Optional.empty());
        }
        JudgedVisit judged = VisitJudge.judge(basis.unit(), visit, basis.policy());
        tx.keepFacts(unit, List.of(row(judged.facts())));
        if (isNew && isAfter(judged.facts(), before)) {
            UnitState after = Fold.step(before, judged.facts(), basis.policy());
            Optional<Judged> own = Optional.of(new Judged(judged, before.codes()));
            return kept.flatMap(fold -> ranOn(fold, before, after))
                    .map(summary -> keep(tx, basis, before, after, Optional.empty(), summary, receivedAt, own))
                    .orElseGet(() -> keep(tx, basis, before, after, receivedAt, own));
        }
        List<VisitFacts> all = facts(tx, unit);
        return keep(tx, basis, before, Fold.of(all, basis.policy()), receivedAt, Optional.of(new Judged(judged, codesBefore(all, revision.key()))));
    }

    /** The memory of codes as the visits before this one left it. */
    static CodeMemory codesBefore(List<VisitFacts> all, Stored.VisitKey key) {
        CodeMemory codes = CodeMemory.NONE;
        for (VisitFacts facts : all) {
            if (compare(facts.arrivedAt(), facts.visit(), key.arrivedAt(), key.visit()) >= 0) {
                break;
            }
            codes = codes.after(facts);
        }
        return codes;
    }

    static boolean hasVisits(Transaction tx, String unit) {
        return !tx.visits(unit, Optional.empty(), 1).isEmpty();
    }

    private static boolean hasOtherVisits(Transaction tx, String unit, String visit) {
        return tx.visits(unit, Optional.empty(), 2).stream().anyMatch(other -> !other.visit().equals(visit));
    }

    static boolean isAfter(VisitFacts facts, UnitState state) {
        return state.lastVisit().filter(last -> compare(last.arrivedAt(), last.visit(), facts.arrivedAt(), facts.visit()) >= 0).isEmpty();
    }

    private static int compare(Instant oneAt, String one, Instant otherAt, String other) {
        int byArrival = oneAt.compareTo(otherAt);
        return byArrival != 0 ? byArrival : one.compareTo(other);
    }

    /** Judges and folds every visit of the unit again. */
    Derived rebuild(Transaction tx, Basis basis) {
        return remake(tx, basis, tx.fold(basis.unit().id()).map(this::state).orElse(UnitState.EMPTY));
    }

    /** As {@link #rebuild}, without a look at what is kept, which may be damaged. */
    void remake(Transaction tx, Basis basis) {
        remake(tx, basis, UnitState.EMPTY);
    }

    private Derived remake(Transaction tx, Basis basis, UnitState before) {
        String unit = basis.unit().id();
        List<Stored.VisitRevision> visits = tx.visits(unit);
        List<VisitFacts> facts = judged(basis, visits);
        Set<String> counted = facts.stream().map(VisitFacts::visit).collect(Collectors.toSet());
        tx.facts(unit).stream().map(Stored.Facts::visit).filter(visit -> !counted.contains(visit)).forEach(visit -> tx.dropFacts(unit, visit));
        tx.keepFacts(unit, facts.stream().map(this::row).toList());
        return keep(tx, basis, before, Fold.of(facts, basis.policy()), lastReceivedAt(visits), Optional.empty());
    }

    static Optional<Instant> lastReceivedAt(List<Stored.VisitRevision> visits) {
        return visits.stream().map(Stored.VisitRevision::receivedAt).max(Comparator.naturalOrder());
    }

    /** The facts of these revisions, in order, without the voided ones. */
    List<VisitFacts> judged(Basis basis, List<Stored.VisitRevision> visits) {
        List<VisitFacts> facts = new ArrayList<>();
        for (Stored.VisitRevision revision : visits) {
            if (!revision.voided()) {
                facts.add(facts(basis, codec.visit(revision.visit(), revision.evidence())));
            }
        }
        facts.sort((one, other) -> compare(one.arrivedAt(), one.visit(), other.arrivedAt(), other.visit()));
        return facts;
    }

    VisitFacts facts(Basis basis, Visit visit) {
        return VisitJudge.facts(basis.unit(), visit, basis.policy(), answers);
    }

    List<VisitFacts> facts(Transaction tx, String unit) {
        return tx.facts(unit).stream().map(row -> codec.decode(row.facts(), VisitFacts.class)).toList();
    }

    UnitState state(Stored.Fold fold) {
        return fold.policyVersion() == Stored.UNDER_NO_POLICY ? UnitState.EMPTY : codec.decode(fold.state(), UnitState.class);
    }

    Stored.Facts row(VisitFacts facts) {
        return new Stored.Facts(facts.visit(), facts.arrivedAt(), codec.encode(facts));
    }

    Derived keep(Transaction tx, Basis basis, UnitState before, UnitState after, Optional<Instant> lastReceivedAt, Optional<Judged> visit) {
        UnitView view = UnitView.of(after, basis.policy(), UnitSummary.THE_END);
        return keep(tx, basis, before, after, Optional.of(view), UnitSummary.of(basis.unit(), view), lastReceivedAt, visit);
    }

    private Derived keep(Transaction tx, Basis basis, UnitState before, UnitState after, Optional<UnitView> view, UnitSummary summary,
            Optional<Instant> lastReceivedAt, Optional<Judged> visit) {
        tx.keepFold(basis.unit().id(), fold(basis, after, summary, lastReceivedAt));
        return new Derived(before, after, view, summary, visit);
    }

    /** The compact row, where the one that is kept runs on; it is not even read where a trail changed. */
    private Optional<UnitSummary> ranOn(Stored.Fold kept, UnitState before, UnitState after) {
        return before.trails().equals(after.trails())
                ? CompactRows.sound(codec, kept.summary()).flatMap(row -> row.runOn(before, after))
                : Optional.empty();
    }

    Stored.Fold fold(Basis basis, List<VisitFacts> facts, Optional<Instant> lastReceivedAt) {
        UnitState state = Fold.of(facts, basis.policy());
        return fold(basis, state, UnitSummary.of(basis.unit(), state, basis.policy()), lastReceivedAt);
    }

    private Stored.Fold fold(Basis basis, UnitState state, UnitSummary summary, Optional<Instant> lastReceivedAt) {
        return new Stored.Fold(basis.unitVersion(), basis.policyVersion(), lastReceivedAt, codec.encode(state), codec.encode(summary));
    }

    static Optional<Instant> later(Optional<Instant> one, Instant other) {
        return Optional.of(one.filter(instant -> instant.isAfter(other)).orElse(other));
    }
}
