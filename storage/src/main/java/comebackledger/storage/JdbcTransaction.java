package comebackledger.storage;

import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;
import java.util.function.Consumer;

import comebackledger.Require;
import comebackledger.ledger.Stored;
import comebackledger.ledger.Transaction;

/** The port over one connection; each table's rows are another class. */
final class JdbcTransaction implements Transaction {
    /** What the transaction may do. */
    enum Access {
        READ, WRITE
    }

    private final Access access;
    private final UnitRows units;
    private final VisitRows visits;
    private final FactsRows facts;
    private final DerivedRows derived;
    private final PolicyRows policies;
    private final BaselineRows baselines;
    private final ChangeRows changes;
    private boolean wrote;

    JdbcTransaction(Session session, Access access) {
        this.access = access;
        units = new UnitRows(session);
        visits = new VisitRows(session, units);
        facts = new FactsRows(session, visits);
        derived = new DerivedRows(session);
        policies = new PolicyRows(session);
        baselines = new BaselineRows(session);
        changes = new ChangeRows(session);
    }

    /** Sends what still waits, the changes last. */
    void end() {
        if (wrote) {
            units.flush();
            visits.flush();
            facts.flush();
            derived.flush();
            changes.end();
        }
    }

    private void write() {
        Require.that(access == Access.WRITE, "a read changes nothing; use write");
        wrote = true;
    }

    @Override
    public void lock(SortedSet<String> names) {
        Require.that(access == Access.WRITE, "a read changes nothing and needs no lock; use write");
        units.lock(names);
    }

    @Override
    public Optional<Stored.UnitVersion> unit(String unit) {
        return units.newest(unit);
    }

    @Override
    public Optional<Stored.UnitVersion> unitAsKnown(String unit, Instant at) {
        return units.asKnown(unit, at);
    }

    @Override
    public List<Stored.UnitVersion> units(Optional<String> after, int limit) {
        return units.page(after, limit);
    }

    @Override
    public List<Stored.UnitVersion> unitVersions(String unit) {
        return units.versions(unit);
    }

    @Override
    public void append(Stored.UnitVersion version) {
        write();
        units.append(version);
    }

    @Override
    public Optional<Stored.VisitRevision> visit(String unit, String visit) {
        return visits.current(unit, visit);
    }

    @Override
    public Optional<Stored.VisitRevision> visit(String unit, String visit, int revision) {
        return visits.revision(unit, visit, revision);
    }

    @Override
    public List<Stored.VisitRevision> visits(String unit) {
        return visits.allCurrent(unit);
    }

    @Override
    public List<Stored.VisitRevision> visitsAsKnown(String unit, Instant at) {
        return visits.asKnown(unit, at);
    }

    @Override
    public List<Stored.VisitRevision> visits(String unit, Optional<Stored.VisitKey> after, int limit) {
        return visits.page(unit, after, limit);
    }

    @Override
    public List<Stored.VisitRevision> visitRevisions(String unit) {
        return visits.revisions(unit);
    }

    @Override
    public Optional<String> otherUnitWith(String visit, String unit) {
        return visits.otherUnitWith(visit, unit);
    }

    @Override
    public void append(Stored.VisitRevision revision) {
        write();
        visits.append(revision);
    }

    @Override
    public List<Stored.Facts> facts(String unit) {
        return facts.of(unit);
    }

    @Override
    public void keepFacts(String unit, Collection<Stored.Facts> rows) {
        write();
        facts.keep(unit, rows);
    }

    @Override
    public void dropFacts(String unit, String visit) {
        write();
        facts.drop(unit, visit);
    }

    @Override
    public Optional<Stored.Fold> fold(String unit) {
        return derived.fold(unit);
    }

    @Override
    public void keepFold(String unit, Stored.Fold fold) {
        write();
        derived.keepFold(unit, fold);
    }

    @Override
    public void eachSummary(Consumer<Stored.Summary> row) {
        derived.eachSummary(row);
    }

    @Override
    public void derivedAlike(int policyVersion, int newPolicyVersion) {
        derived.restamp(policyVersion, newPolicyVersion);
    }

    @Override
    public Optional<Stored.PolicyVersion> policy() {
        return policies.newest();
    }

    @Override
    public Optional<Stored.PolicyVersion> policyAsKnown(Instant at) {
        return policies.asKnown(at);
    }

    @Override
    public List<Stored.PolicyVersion> policyVersions() {
        return policies.versions();
    }

    @Override
    public void append(Stored.PolicyVersion version) {
        write();
        policies.append(version);
    }

    @Override
    public Optional<Stored.BaselineVersion> baseline() {
        return baselines.newest();
    }

    @Override
    public Optional<Stored.BaselineVersion> baselineAsKnown(Instant at) {
        return baselines.asKnown(at);
    }

    @Override
    public List<Stored.BaselineVersion> baselineVersions() {
        return baselines.versions();
    }

    @Override
    public void append(Stored.BaselineVersion version) {
        write();
        baselines.append(version);
    }

    @Override
    public void change(Stored.ChangeKind kind, Optional<String> unit, Optional<String> visit, Instant at, String by) {
        write();
        changes.add(kind, unit, visit, at, by);
    }

    @Override
    public Stored.Mark mark() {
        return changes.mark();
    }

    @Override
    public List<Stored.Change> changes(long after, int limit) {
        return changes.after(after, limit);
    }
}
