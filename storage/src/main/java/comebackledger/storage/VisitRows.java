package comebackledger.storage;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

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

    /** A visit by its whole key within the fleet. */
    private record Key(String unit, String visit) {}

    private final Session session;
    private final Waiting<Stored.VisitRevision> waiting;
    private final Map<Key, Stored.VisitRevision> newestWaiting = new HashMap<>();

    VisitRows(Session session) {
        this.session = session;
        waiting = new Waiting<>(row -> row.evidence().length(), rows -> {
            session.batch(APPEND, rows.stream().map(VisitRows::columns));
            newestWaiting.clear();
        });
    }

    Optional<Stored.VisitRevision> current(String unit, String visit) {
        Optional<Stored.VisitRevision> known = Optional.ofNullable(newestWaiting.get(new Key(unit, visit)));
        return known.isPresent() ? known : session.first(CURRENT, VisitRows::row, unit, visit);
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
        return session.list(AS_KNOWN, VisitRows::row, unit, at, at);
    }

    List<Stored.VisitRevision> page(String unit, Optional<Stored.VisitKey> after, int limit) {
        waiting.flush();
        if (after.isEmpty()) {
            return session.list(PAGE, VisitRows::row, unit, limit);
        }
        Stored.VisitKey key = after.get();
        return session.list(PAGE_AFTER, VisitRows::row, unit, key.arrivedAt(), key.arrivedAt(), key.visit(), limit);
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
        newestWaiting.merge(new Key(revision.unit(), revision.visit()), revision, (one, other) -> one.revision() > other.revision() ? one : other);
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
