package comebackledger.ledger;

import comebackledger.baseline.Baseline;
import comebackledger.baseline.Taught;
import comebackledger.judge.CountedCode;
import comebackledger.judge.JudgedVisit;
import comebackledger.judge.Occurrence;
import comebackledger.judge.Occurrences;
import comebackledger.judge.VisitFacts;
import comebackledger.judge.VisitJudge;
import comebackledger.judge.Warning;
import comebackledger.policy.Policy;
import comebackledger.trail.Fold;
import comebackledger.trail.UnitState;
import comebackledger.trail.UnitSummary;
import comebackledger.trail.UnitView;
import comebackledger.unit.Unit;
import comebackledger.visit.Visit;
import java.time.Duration;
import java.time.Instant;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeSet;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Predicate;

/**
 * What a host calls. Records units, visits and the policy, each in one transaction with everything derived from it, and answers from what is kept.
 * Thread-safe; holds no state that the store cannot give back.
 *
 * <p>Every call may throw {@link StoreUnavailableException}, and then nothing was changed by it. An answer about a unit is empty where the fleet has not
 * registered it; an instant that is left out is now; a limit is a number of items, 1 or more, and no more than a page that the host can hold.
 */
public final class Ledger {
    /** How old a baseline may be before the next is learned (common practice, no source). */
    public static final Duration BASELINE_EVERY = Duration.ofHours(24);
    /** No unit has this name: the policy's and the baseline's writers queue behind it. */
    static final String POLICY_LOCK = " policy";

    private final Store store;
    private final Codec codec;
    private final InstantSource clock;
    private final Listener listener;
    private final Derivation derivation;
    private final DispatchDesk dispatch;
    private final PlannerDesk planner;
    private final BenchDesk bench;
    private final BaselineDesk baselines;

    public Ledger(Store store, Codec codec, InstantSource clock, Listener listener) {
        this(store, codec, clock, listener, BASELINE_EVERY);
    }

    /**
     * @param clock tells now; whatever is told of a past instant does not depend on it
     * @param listener told on the writer's thread, after the transaction; an import tells it nothing, the change feed tells of both
     * @param baselineEvery how old a baseline may be before the next is learned, above 0
     */
    public Ledger(Store store, Codec codec, InstantSource clock, Listener listener, Duration baselineEvery) {
        this.store = store;
        this.codec = codec;
        this.clock = clock;
        this.listener = listener;
        this.derivation = new Derivation(codec);
        this.dispatch = new DispatchDesk(this, derivation);
        CompactRows rows = new CompactRows(this, derivation);
        this.planner = new PlannerDesk(this, rows);
        this.bench = new BenchDesk(this);
        this.baselines = new BaselineDesk(this, rows, baselineEvery);
    }

    /** The ledger's own clock, at the resolution that is kept. */
    public Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MICROS);
    }

    /** The dispatch answers. */
    public DispatchDesk dispatch() {
        return dispatch;
    }

    /** The planner's answers. */
    public PlannerDesk planner() {
        return planner;
    }

    /** The technician's answers. */
    public BenchDesk bench() {
        return bench;
    }

    /** What the fleet teaches. */
    public BaselineDesk baselines() {
        return baselines;
    }

    Store store() {
        return store;
    }

    Codec codec() {
        return codec;
    }

    // Units.

    /** Registers or replaces a unit; its visits are judged again against the new build. */
    public Outcome<RecordedUnit> putUnit(Caller caller, Evidence<Unit> evidence) {
        Unit unit = evidence.decoded();
        Outcome<RecordedUnit> outcome = store.write(caller.fleet(), tx -> {
            tx.lock(new TreeSet<>(List.of(unit.id())));
            Optional<Stored.UnitVersion> current = tx.unit(unit.id());
            if (current.isPresent() && codec.unit(unit.id(), current.get().document()).equals(unit)) {
                return new Outcome.Unchanged<RecordedUnit>(recorded(current.get()));
            }
            Stored.UnitVersion version = new Stored.UnitVersion(unit.id(), current.map(Stored.UnitVersion::version).orElse(0) + 1,
                    evidence.document(), now(),
                    caller.name());
            tx.append(version);
            tx.change(Stored.ChangeKind.UNIT_RECORDED, Optional.of(unit.id()), Optional.empty(), version.recordedAt(), caller.name());
            Derivation.Derived derived = derivation.rebuild(tx, basis(tx, version));
            if (changed(derived)) {
                tx.change(Stored.ChangeKind.STANDING_CHANGED, Optional.of(unit.id()), Optional.empty(), version.recordedAt(), caller.name());
            }
            return current.isEmpty() ? new Outcome.Created<>(recorded(version)) : new Outcome.Replaced<>(recorded(version));
        });
        if (!(outcome instanceof Outcome.Unchanged)) {
            listener.changed(caller.fleet(), Stored.ChangeKind.UNIT_RECORDED, Optional.of(unit.id()), Optional.empty());
        }
        return outcome;
    }

    private RecordedUnit recorded(Stored.UnitVersion version) {
        return new RecordedUnit(codec.unit(version.unit(), version.document()), version.document(), version.version(), version.recordedAt());
    }

    /** The version that is current. */
    public Optional<RecordedUnit> unit(String fleet, String unit) {
        return store.read(fleet, tx -> tx.unit(unit).map(this::recorded));
    }

    /** By identifier, after a given one. */
    public List<RecordedUnit> units(String fleet, Optional<String> after, int limit) {
        return store.read(fleet, tx -> tx.units(after, limit).stream().map(this::recorded).toList());
    }

    // Visits.

    /**
     * Records a visit or a revision of it. The same content again is {@link Outcome.Unchanged}, however it is spelled.
     *
     * @param replaces the revision that changed content replaces, 1 or more; empty for a visit that is new
     */
    public Outcome<RecordedVisit> putVisit(Caller caller, String unit, Evidence<Visit> evidence, OptionalInt replaces) {
        Visit visit = evidence.decoded();
        Outcome<RecordedVisit> outcome = store.write(caller.fleet(), tx -> putVisit(tx, caller, unit, evidence, replaces));
        switch (outcome) {
            case Outcome.Created<RecordedVisit> _ ->
                recorded(caller, Stored.ChangeKind.VISIT_RECORDED, unit, visit);
            case Outcome.Replaced<RecordedVisit> _ ->
                recorded(caller, Stored.ChangeKind.VISIT_REVISED, unit, visit);
            case Outcome.Unchanged<RecordedVisit> _,Outcome.UnitUnknown<RecordedVisit> _,Outcome.RevisionRequired<RecordedVisit> _,Outcome.Stale<RecordedVisit> _ -> {
                // Nothing changed.
            }
        }
        return outcome;
    }

    private void recorded(Caller caller, Stored.ChangeKind kind, String unit, Visit visit) {
        baselines.recordedVisits(caller.fleet(), 1);
        listener.changed(caller.fleet(), kind, Optional.of(unit), Optional.of(visit.id()));
    }

    private Outcome<RecordedVisit> putVisit(Transaction tx, Caller caller, String unit, Evidence<Visit> evidence, OptionalInt replaces) {
        Visit visit = evidence.decoded();
        tx.lock(new TreeSet<>(List.of(unit)));
        Optional<Stored.UnitVersion> version = tx.unit(unit);
        if (version.isEmpty()) {
            return new Outcome.UnitUnknown<>();
        }
        Derivation.Basis basis = basis(tx, version.get());
        Optional<Stored.VisitRevision> current = tx.visit(unit, visit.id());
        if (current.isPresent() && codec.visit(visit.id(), current.get().evidence()).equals(visit)) {
            return new Outcome.Unchanged<>(recorded(tx, caller.fleet(), basis, current.get(), true));
        }
        int currentRevision = current.map(Stored.VisitRevision::revision).orElse(0);
        if (current.isPresent() && replaces.isEmpty()) {
            return new Outcome.RevisionRequired<>(currentRevision);
        }
        if (replaces.isPresent() && replaces.getAsInt() != currentRevision) {
            return new Outcome.Stale<>(currentRevision);
        }
        Stored.VisitRevision revision = new Stored.VisitRevision(unit, visit.id(), currentRevision + 1, visit.arrivedAt(), visit.voided(),
                evidence.document(),
                now(), caller.name());
        Derivation.Derived derived = append(tx, basis, revision, visit);
        RecordedVisit answer = derived.visit()
                .map(judged -> recorded(tx, basis, revision, visit, judged,
                        derived.view().map(view -> Contradictions.of(visit, view, _ -> true)).orElse(List.of()),
                        Optional.of(standing(tx, caller.fleet(), basis, derived))))
                .orElseGet(() -> recorded(tx, caller.fleet(), basis, revision, true));
        return current.isEmpty() ? new Outcome.Created<>(answer) : new Outcome.Replaced<>(answer);
    }

    /** Appends a revision with everything derived from it and the changes it makes. */
    Derivation.Derived append(Transaction tx, Derivation.Basis basis, Stored.VisitRevision revision, Visit visit) {
        tx.append(revision);
        Derivation.Derived derived = derivation.follow(tx, basis, revision, visit, revision.revision() == 1);
        Stored.ChangeKind kind = revision.revision() == 1 ? Stored.ChangeKind.VISIT_RECORDED : Stored.ChangeKind.VISIT_REVISED;
        tx.change(kind, Optional.of(revision.unit()), Optional.of(revision.visit()), revision.receivedAt(), revision.by());
        if (changed(derived)) {
            tx.change(Stored.ChangeKind.STANDING_CHANGED, Optional.of(revision.unit()), Optional.of(revision.visit()), revision.receivedAt(),
                    revision.by());
        }
        return derived;
    }

    private static boolean changed(Derivation.Derived derived) {
        return !derived.before().standsAs(derived.after());
    }

    /** One revision, the current one unless it is named. */
    public Optional<RecordedVisit> visit(String fleet, String unit, String visit, OptionalInt revision) {
        return store.read(fleet, tx -> tx.unit(unit).flatMap(version -> {
            Optional<Stored.VisitRevision> found = revision.isPresent() ? tx.visit(unit, visit, revision.getAsInt()) : tx.visit(unit, visit);
            return found.map(row -> recorded(tx, fleet, basis(tx, version), row, revision.isEmpty()));
        }));
    }

    /** The current revisions after a visit, in order, without standing. */
    public List<Stored.VisitRevision> visits(String fleet, String unit, Optional<Stored.VisitKey> after, int limit) {
        return store.read(fleet, tx -> tx.visits(unit, after, limit));
    }

    private RecordedVisit recorded(Transaction tx, String fleet, Derivation.Basis basis, Stored.VisitRevision revision, boolean current) {
        Visit visit = codec.visit(revision.visit(), revision.evidence());
        List<VisitFacts> all = factsNow(tx, basis);
        UnitState state = tx.fold(basis.unit().id()).filter(basis::made).map(derivation::state).orElseGet(() -> Fold.of(all, basis.policy()));
        UnitView view = UnitView.of(state, basis.policy(), now());
        Derivation.Judged judged = new Derivation.Judged(VisitJudge.judge(basis.unit(), visit, basis.policy()),
                Derivation.codesBefore(all, revision.key()));
        Predicate<String> wasThere = other -> tx.visit(revision.unit(), other)
                .filter(found -> found.receivedAt().isBefore(revision.receivedAt())).isPresent();
        return recorded(tx, basis, revision, visit, judged, Contradictions.of(visit, view, wasThere),
                current
                        ? Optional.of(standing(basis, view, UnitSummary.of(basis.unit(), view), baselines.newest(tx, fleet)))
                        : Optional.empty());
    }

    private static RecordedVisit recorded(Transaction tx, Derivation.Basis basis, Stored.VisitRevision revision, Visit visit,
            Derivation.Judged judged, List<Warning> contradictions, Optional<Standing> standing) {
        JudgedVisit own = judged.visit();
        Occurrences.Of found = Occurrences.of(own.facts(), judged.codesBefore(), basis.policy().bus().namePlaceAt());
        List<Occurrence> occurrences = visit.voided() ? List.of() : found.occurrences();
        List<CountedCode> codes = own.facts().codes().stream()
                .map(code -> new CountedCode(code, !visit.voided() && found.counting().contains(code))).toList();
        List<Warning> warnings = new ArrayList<>(own.warnings());
        warnings.addAll(contradictions);
        tx.otherUnitWith(revision.visit(), revision.unit()).ifPresent(other -> warnings.add(new Warning("",
                "Unit " + other + " has a visit of this identifier too. Both are kept; check which unit the work order belongs to.")));
        return new RecordedVisit(revision.unit(), revision.visit(), revision.revision(), revision.receivedAt(), revision.voided(),
                revision.evidence(), own.tests(), codes, occurrences, List.copyOf(warnings), standing);
    }

    // Standing and trails: what was true then, as known now.

    /** At an instant, counting the visits that arrived by then. */
    public Optional<Standing> standing(String fleet, String unit, Optional<Instant> at) {
        baselines.learnIfDue(fleet);
        return store.read(fleet, tx -> tx.unit(unit).map(version -> standing(tx, fleet, version, at.orElseGet(this::now))));
    }

    Standing standing(Transaction tx, String fleet, Stored.UnitVersion version, Instant at) {
        Derivation.Basis basis = basis(tx, version);
        UnitView view = UnitView.of(stateAt(tx, basis, at), basis.policy(), at);
        return standing(basis, view, UnitSummary.of(basis.unit(), view), baselines.newest(tx, fleet));
    }

    private static Standing standing(Derivation.Basis basis, UnitView view, UnitSummary summary, Optional<Baseline> baseline) {
        return new Standing(basis.unit(), view.at(), () -> Taught.of(view, summary, baseline).view());
    }

    /** Now, after a change. */
    private Standing standing(Transaction tx, String fleet, Derivation.Basis basis, Derivation.Derived derived) {
        Instant now = now();
        Optional<Baseline> baseline = baselines.newest(tx, fleet);
        return new Standing(basis.unit(), now, () -> Taught.of(
                derived.view().map(view -> view.asOf(now)).orElseGet(() -> UnitView.of(derived.after(), basis.policy(), now)), derived.summary(),
                baseline).view());
    }

    /** The fold of the visits that arrived by an instant, judged under the current build and policy. */
    UnitState stateAt(Transaction tx, Derivation.Basis basis, Instant at) {
        Optional<Stored.Fold> kept = tx.fold(basis.unit().id()).filter(basis::made);
        if (kept.isPresent()) {
            UnitState state = derivation.state(kept.get());
            if (state.lastVisit().filter(last -> last.arrivedAt().isAfter(at)).isEmpty()) {
                return state;
            }
        }
        return Fold.of(factsNow(tx, basis).stream().filter(facts -> !facts.arrivedAt().isAfter(at)).toList(), basis.policy());
    }

    /** The kept facts, or, where they were made under other versions, the visits judged again. */
    List<VisitFacts> factsNow(Transaction tx, Derivation.Basis basis) {
        String unit = basis.unit().id();
        return tx.fold(unit).filter(basis::made).isPresent() ? derivation.facts(tx, unit) : derivation.judged(basis, tx.visits(unit));
    }

    // Policy.

    /** The one in force; the defaults, version 0, while the fleet recorded none. */
    public RecordedPolicy policy(String fleet) {
        return store.read(fleet, this::policy);
    }

    RecordedPolicy policy(Transaction tx) {
        return policy(tx.policy());
    }

    RecordedPolicy policy(Optional<Stored.PolicyVersion> version) {
        return version.map(row -> new RecordedPolicy(codec.policy(row.document()), row.version())).orElse(new RecordedPolicy(Policy.DEFAULT, 0));
    }

    /** Replaces the policy whole. @param replaces the version it replaces, 0 where the defaults hold; required */
    public Outcome<RecordedPolicy> putPolicy(Caller caller, Evidence<Policy> evidence, OptionalInt replaces) {
        AtomicBoolean leavesRowsBehind = new AtomicBoolean();
        Outcome<RecordedPolicy> outcome = store.write(caller.fleet(), tx -> {
            tx.lock(new TreeSet<>(List.of(POLICY_LOCK)));
            RecordedPolicy current = policy(tx);
            if (current.policy().equals(evidence.decoded())) {
                return new Outcome.Unchanged<RecordedPolicy>(current);
            }
            if (replaces.isEmpty()) {
                return new Outcome.RevisionRequired<RecordedPolicy>(current.version());
            }
            if (replaces.getAsInt() != current.version()) {
                return new Outcome.Stale<RecordedPolicy>(current.version());
            }
            Stored.PolicyVersion version = new Stored.PolicyVersion(current.version() + 1, evidence.document(), now(), caller.name());
            tx.append(version);
            leavesRowsBehind.set(!evidence.decoded().foldsAs(current.policy()));
            if (!leavesRowsBehind.get()) {
                tx.derivedAlike(current.version(), version.version());
            }
            tx.change(Stored.ChangeKind.POLICY_CHANGED, Optional.empty(), Optional.empty(), version.recordedAt(), caller.name());
            return new Outcome.Replaced<>(new RecordedPolicy(evidence.decoded(), version.version()));
        });
        if (outcome instanceof Outcome.Replaced) {
            listener.changed(caller.fleet(), Stored.ChangeKind.POLICY_CHANGED, Optional.empty(), Optional.empty());
            if (leavesRowsBehind.get()) {
                new Refolding(this, derivation, caller.fleet()).begin();
            }
        }
        return outcome;
    }

    Derivation.Basis basis(Transaction tx, Stored.UnitVersion version) {
        RecordedPolicy policy = policy(tx);
        return new Derivation.Basis(codec.unit(version.unit(), version.document()), version.version(), policy.policy(), policy.version());
    }

    // Changes.

    /** Changes after a position, in the order they became visible. */
    public List<Stored.Change> changes(String fleet, long after, int limit) {
        return store.read(fleet, tx -> tx.changes(after, limit));
    }

    // Rebuild and verify.

    /** Called now and then on long work: how many units of the fleet are done. */
    public interface Progress {
        void done(String fleet, int units);
    }

    /** Judges and folds every unit of every fleet again. */
    public void rebuild(Progress progress) {
        new Rebuild(store, this, derivation).rebuild(progress);
    }

    /** Recomputes everything from evidence and compares it with what is kept. @return what differs, in words; empty when all agrees */
    public List<String> verify(Progress progress) {
        return new Rebuild(store, this, derivation).verify(progress);
    }
}
