package comebackledger.ledger;

import comebackledger.judge.VisitFacts;
import comebackledger.trail.Fold;
import comebackledger.trail.UnitState;
import comebackledger.visit.Visit;
import java.time.Instant;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * One unit's share of a batch: its fold is read once, stepped in memory from visit to visit, and kept once at the end. A late or revised visit costs one
 * refold of the unit however many there are. What is kept is what visits taken one by one would have left.
 */
final class UnitIntake {
    private final Transaction tx;
    private final Caller caller;
    private final Derivation derivation;
    private final Derivation.Basis basis;
    /** Registered in this batch: the store knows nothing of it yet. */
    private final boolean fresh;
    private final UnitState before;
    private final Set<String> appended = new HashSet<>();
    private UnitState state;
    private Optional<Instant> lastReceivedAt;
    private Optional<String> lastVisit = Optional.empty();
    private boolean changed;
    private boolean refold;
    private boolean rebuild;

    private UnitIntake(Transaction tx, Caller caller, Derivation derivation, Derivation.Basis basis, boolean fresh, Optional<Stored.Fold> kept,
            boolean rebuild) {
        this.tx = tx;
        this.caller = caller;
        this.derivation = derivation;
        this.basis = basis;
        this.fresh = fresh;
        this.before = kept.map(derivation::state).orElse(UnitState.EMPTY);
        this.state = before;
        this.lastReceivedAt = kept.flatMap(Stored.Fold::lastReceivedAt);
        this.rebuild = rebuild;
    }

    /** A unit that this batch registers. */
    static UnitIntake ofNew(Transaction tx, Caller caller, Derivation derivation, Derivation.Basis basis) {
        UnitIntake intake = new UnitIntake(tx, caller, derivation, basis, true, Optional.empty(), false);
        intake.changed = true;
        return intake;
    }

    /** A unit whose build this batch replaces: everything is judged again. */
    static UnitIntake ofRebuilt(Transaction tx, Caller caller, Derivation derivation, Derivation.Basis basis) {
        return new UnitIntake(tx, caller, derivation, basis, false, tx.fold(basis.unit().id()), true);
    }

    static UnitIntake ofKnown(Transaction tx, Caller caller, Derivation derivation, Derivation.Basis basis) {
        String unit = basis.unit().id();
        Optional<Stored.Fold> kept = tx.fold(unit);
        boolean usable = kept.filter(basis::made).isPresent();
        boolean rebuild = !usable && (kept.isPresent() || Derivation.hasVisits(tx, unit));
        return new UnitIntake(tx, caller, derivation, basis, false, kept, rebuild);
    }

    /** The current revision of a visit; of a new unit nothing is asked of the store that it cannot have. */
    Optional<Stored.VisitRevision> current(String visit) {
        return fresh && !appended.contains(visit) ? Optional.empty() : tx.visit(basis.unit().id(), visit);
    }

    /** Appends a revision and follows it as far as memory goes. */
    void append(Stored.VisitRevision revision, Visit visit) {
        tx.append(revision);
        appended.add(revision.visit());
        boolean isNew = revision.revision() == 1;
        change(isNew ? Stored.ChangeKind.VISIT_RECORDED : Stored.ChangeKind.VISIT_REVISED, revision.visit(), revision.receivedAt());
        changed = true;
        lastVisit = Optional.of(revision.visit());
        lastReceivedAt = Derivation.later(lastReceivedAt, revision.receivedAt());
        if (!rebuild) {
            follow(visit, isNew, revision.receivedAt());
        }
    }

    private void follow(Visit visit, boolean isNew, Instant receivedAt) {
        String unit = basis.unit().id();
        if (visit.voided()) {
            tx.dropFacts(unit, visit.id());
            refold |= !isNew;
            return;
        }
        VisitFacts facts = derivation.facts(basis, visit);
        tx.keepFacts(unit, List.of(derivation.row(facts)));
        refold |= !isNew || !Derivation.isAfter(facts, state);
        if (!refold) {
            UnitState after = Fold.step(state, facts, basis.policy());
            if (!state.standsAs(after)) {
                change(Stored.ChangeKind.STANDING_CHANGED, visit.id(), receivedAt);
            }
            state = after;
        }
    }

    private void change(Stored.ChangeKind kind, String visit, Instant at) {
        tx.change(kind, Optional.of(basis.unit().id()), Optional.of(visit), at, caller.name());
    }

    /** Keeps what the batch made of the unit. */
    void end(Instant now) {
        if (rebuild) {
            Derivation.Derived derived = derivation.rebuild(tx, basis);
            told(before, derived.after(), now);
        } else if (refold) {
            UnitState after = Fold.of(derivation.facts(tx, basis.unit().id()), basis.policy());
            derivation.keep(tx, basis, state, after, lastReceivedAt, Optional.empty());
            told(state, after, now);
        } else if (changed) {
            derivation.keep(tx, basis, before, state, lastReceivedAt, Optional.empty());
        }
    }

    private void told(UnitState earlier, UnitState after, Instant now) {
        if (!earlier.standsAs(after)) {
            tx.change(Stored.ChangeKind.STANDING_CHANGED, Optional.of(basis.unit().id()), lastVisit, lastReceivedAt.orElse(now), caller.name());
        }
    }
}
