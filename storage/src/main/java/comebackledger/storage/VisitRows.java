package comebackledger.storage;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

import comebackledger.ledger.Stored;

/** Visits: append-only revisions, in the order of arrival, then of the identifier. */
final class VisitRows {
    private static final String CURRENT = """
            select unit, visit, revision, arrived_at_ns, voided, evidence, received_at_ns, recorded_by
            from comeback_ledger.visit_revision
            where fleet = ? and unit = ? and visit = ?
            order by revision desc
            fetch first 1 rows only
            """;
    private static final String IDENTIFIERS = """
            select distinct visit
            from comeback_ledger.visit_revision
            where fleet = ? and unit = ?
            """;
    private static final String REVISION = """
            select unit, visit, revision, arrived_at_ns, voided, evidence, received_at_ns, recorded_by
            from comeback_ledger.visit_revision
            where fleet = ? and unit = ? and visit = ? and revision = ?
            """;
    private static final String ALL_CURRENT = """
            select unit, visit, revision, arrived_at_ns, voided, evidence, received_at_ns, recorded_by
            from comeback_ledger.visit_revision v
            where fleet = ? and unit = ?
              and not exists (
                select 1
                from comeback_ledger.visit_revision later
                where later.fleet = v.fleet and later.unit = v.unit and later.visit = v.visit and later.revision > v.revision)
            order by arrived_at_ns, visit
            """;
    private static final String PAGE = """
            select unit, visit, revision, arrived_at_ns, voided, evidence, received_at_ns, recorded_by
            from comeback_ledger.visit_revision v
            where fleet = ? and unit = ?
              and not exists (
                select 1
                from comeback_ledger.visit_revision later
                where later.fleet = v.fleet and later.unit = v.unit and later.visit = v.visit and later.revision > v.revision)
            order by arrived_at_ns, visit
            fetch first ? rows only
            """;
    private static final String PAGE_AFTER = """
            select unit, visit, revision, arrived_at_ns, voided, evidence, received_at_ns, recorded_by
            from comeback_ledger.visit_revision v
            where fleet = ? and unit = ?
              and (arrived_at_ns > ? or arrived_at_ns = ? and visit > ?)
              and not exists (
                select 1
                from comeback_ledger.visit_revision later
                where later.fleet = v.fleet and later.unit = v.unit and later.visit = v.visit and later.revision > v.revision)
            order by arrived_at_ns, visit
            fetch first ? rows only
            """;
    private static final String AS_KNOWN = """
            select unit, visit, revision, arrived_at_ns, voided, evidence, received_at_ns, recorded_by
            from comeback_ledger.visit_revision v
            where fleet = ? and unit = ? and received_at_ns <= ?
              and not exists (
                select 1
                from comeback_ledger.visit_revision later
                where later.fleet = v.fleet and later.unit = v.unit and later.visit = v.visit and later.revision > v.revision
                  and later.received_at_ns <= ?)
            order by arrived_at_ns, visit
            """;
    private static final String REVISIONS = """
            select v.unit, v.visit, v.revision, v.arrived_at_ns, v.voided, v.evidence, v.received_at_ns, v.recorded_by
            from comeback_ledger.visit_revision v
            join comeback_ledger.visit_revision f on f.fleet = v.fleet and f.unit = v.unit and f.visit = v.visit and f.revision = 1
            where v.fleet = ? and v.unit = ?
            order by f.arrived_at_ns, v.visit, v.revision
            """;
    private static final String OTHER_UNIT = """
            select unit
            from comeback_ledger.visit_revision v
            where fleet = ? and visit = ? and unit <> ? and not voided
              and not exists (
                select 1
                from comeback_ledger.visit_revision later
                where later.fleet = v.fleet and later.unit = v.unit and later.visit = v.visit and later.revision > v.revision)
            order by unit
            fetch first 1 rows only
            """;
    private static final String APPEND = """
            insert into comeback_ledger.visit_revision
              (fleet, unit, visit, revision, arrived_at_ns, voided, evidence, received_at_ns, recorded_by)
            values (?, ?, ?, ?, ?, ?, ?, ?, ?)
            """;

    private final Session session;
    private final UnitRows units;
    private final Waiting<Stored.VisitRevision> waiting;
    private final Map<VisitName, Stored.VisitRevision> newestWaiting = new HashMap<>();
    private final Set<VisitName> appendedFirst = new HashSet<>();
    private final Set<String> askedOnce = new HashSet<>();
    /** The identifiers there are, of locked units asked for more than one visit: an import asks for each of its visits, and most are new. */
    private final Map<String, Set<String>> identifiers = new HashMap<>();

    VisitRows(Session session, UnitRows units) {
        this.session = session;
        this.units = units;
        waiting = new Waiting<>(row -> row.evidence().length(), rows -> {
            session.batch(APPEND, rows.stream().map(VisitRows::columns));
            newestWaiting.clear();
        });
    }

    Optional<Stored.VisitRevision> current(String unit, String visit) {
        Optional<Stored.VisitRevision> known = Optional.ofNullable(newestWaiting.get(new VisitName(unit, visit)));
        if (known.isPresent() || isKnownNew(unit, visit)) {
            return known;
        }
        return session.first(CURRENT, VisitRows::row, unit, visit);
    }

    private boolean isKnownNew(String unit, String visit) {
        if (!units.isLocked(unit) || askedOnce.add(unit)) {
            return false;
        }
        return !identifiers.computeIfAbsent(unit, this::identifiers).contains(visit);
    }

    private Set<String> identifiers(String unit) {
        waiting.flush();
        return new HashSet<>(session.list(IDENTIFIERS, columns -> columns.getString(1), unit));
    }

    /** Whether this transaction appended its first revision, so that nothing derived from it can be stored yet. */
    boolean isFirstHere(String unit, String visit) {
        return appendedFirst.contains(new VisitName(unit, visit));
    }

    Optional<Stored.VisitRevision> revision(String unit, String visit, int revision) {
        waiting.flush();
        return session.first(REVISION, VisitRows::row, unit, visit, revision);
    }

    List<Stored.VisitRevision> allCurrent(String unit) {
        waiting.flush();
        return session.list(ALL_CURRENT, VisitRows::row, unit);
    }

    List<Stored.VisitRevision> asKnown(String unit, Instant at) {
        waiting.flush();
        return session.list(AS_KNOWN, VisitRows::row, unit, Nanoseconds.nearest(at), Nanoseconds.nearest(at));
    }

    List<Stored.VisitRevision> page(String unit, Optional<Stored.VisitKey> after, int limit) {
        waiting.flush();
        if (after.isEmpty()) {
            return session.list(PAGE, VisitRows::row, unit, limit);
        }
        Stored.VisitKey key = after.get();
        long arrivedAt = Nanoseconds.nearest(key.arrivedAt());
        return session.list(PAGE_AFTER, VisitRows::row, unit, arrivedAt, arrivedAt, key.visit(), limit);
    }

    List<Stored.VisitRevision> revisions(String unit) {
        waiting.flush();
        return session.list(REVISIONS, VisitRows::row, unit);
    }

    /** A withdrawn visit is no longer one of that unit's. */
    Optional<String> otherUnitWith(String visit, String unit) {
        waiting.flush();
        return session.first(OTHER_UNIT, columns -> columns.getString(1), visit, unit);
    }

    void append(Stored.VisitRevision revision) {
        VisitName name = new VisitName(revision.unit(), revision.visit());
        newestWaiting.merge(name, revision, (one, other) -> one.revision() > other.revision() ? one : other);
        Optional.ofNullable(identifiers.get(revision.unit())).ifPresent(known -> known.add(revision.visit()));
        if (revision.revision() == 1) {
            appendedFirst.add(name);
        }
        waiting.add(revision);
    }

    void flush() {
        waiting.flush();
    }

    private static Object[] columns(Stored.VisitRevision row) {
        return new Object[]{row.unit(), row.visit(), row.revision(), row.arrivedAt(), row.voided(), row.evidence(), row.receivedAt(), row.by()};
    }

    private static Stored.VisitRevision row(ResultSet columns) throws SQLException {
        return new Stored.VisitRevision(columns.getString(1), columns.getString(2), columns.getInt(3), Session.instant(columns, 4),
                columns.getBoolean(5),
                columns.getString(6), Session.instant(columns, 7), columns.getString(8));
    }
}
