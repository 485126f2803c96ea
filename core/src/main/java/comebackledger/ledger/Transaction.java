package comebackledger.ledger;

import java.time.Instant;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.SortedSet;
import java.util.function.Consumer;

/**
 * One transaction over one fleet's rows. Evidence is only ever appended; derived rows are replaced and can be dropped.
 *
 * <p>Visits are ordered by arrival, then by identifier (by code point).
 */
public interface Transaction {
    /** Holds these units against other writers until the transaction ends; in sorted order, so that two batches cannot wait for each other. */
    void lock(SortedSet<String> units);

    // Units: append-only versions.

    Optional<Stored.UnitVersion> unit(String unit);

    /** The version that was newest at {@code at}. */
    Optional<Stored.UnitVersion> unitAsKnown(String unit, Instant at);

    /** The newest version of each unit, by identifier. */
    List<Stored.UnitVersion> units(Optional<String> after, int limit);

    /** Every version of a unit, oldest first. */
    List<Stored.UnitVersion> unitVersions(String unit);

    void append(Stored.UnitVersion version);

    // Visits: append-only revisions.

    /** The current revision. */
    Optional<Stored.VisitRevision> visit(String unit, String visit);

    Optional<Stored.VisitRevision> visit(String unit, String visit, int revision);

    /** The current revisions, voided ones included, in order of the visits. */
    List<Stored.VisitRevision> visits(String unit);

    /** As {@link #visits}, counting only revisions received at or before {@code at}. */
    List<Stored.VisitRevision> visitsAsKnown(String unit, Instant at);

    /** Current revisions after the visit with that arrival and identifier. */
    List<Stored.VisitRevision> visits(String unit, Optional<Stored.VisitKey> after, int limit);

    /** Every revision of every visit of a unit, in order of the visits' first revisions, then by revision. */
    List<Stored.VisitRevision> visitRevisions(String unit);

    /** Another unit that has a current visit of this identifier. */
    Optional<String> otherUnitWith(String visit, String unit);

    void append(Stored.VisitRevision revision);

    // Derived: may be dropped and rebuilt.

    /** What was judged of each current, unvoided visit, in order. */
    List<Stored.Facts> facts(String unit);

    /** Adds or replaces. */
    void keepFacts(String unit, Collection<Stored.Facts> facts);

    void dropFacts(String unit, String visit);

    Optional<Stored.Fold> fold(String unit);

    void keepFold(String unit, Stored.Fold fold);

    /** Streams the compact row of every unit, by identifier, in bounded memory. */
    void eachSummary(Consumer<Stored.Summary> row);

    /** Counts what was derived under one policy version as derived under another that judges and folds alike. */
    void derivedAlike(int policyVersion, int newPolicyVersion);

    // Policy and baseline: append-only versions.

    Optional<Stored.PolicyVersion> policy();

    Optional<Stored.PolicyVersion> policyAsKnown(Instant at);

    List<Stored.PolicyVersion> policyVersions();

    void append(Stored.PolicyVersion version);

    Optional<Stored.BaselineVersion> baseline();

    Optional<Stored.BaselineVersion> baselineAsKnown(Instant at);

    List<Stored.BaselineVersion> baselineVersions();

    void append(Stored.BaselineVersion version);

    // The change feed.

    /** Adds a row; its position is taken when the transaction ends, so that a reader who follows positions misses none. */
    void change(Stored.ChangeKind kind, Optional<String> unit, Optional<String> visit, Instant at, String by);

    /** How far the fleet has come, without reading what it came to. */
    Stored.Mark mark();

    /** Changes with a position above {@code after}, in order. */
    List<Stored.Change> changes(long after, int limit);
}
