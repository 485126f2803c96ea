package comebackledger.storage;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

import comebackledger.ledger.Stored;

/** The fleet's policy: append-only versions. One transaction works under one current policy. */
final class PolicyRows {
    private static final String NEWEST = """
            select version, document, recorded_at_ns, recorded_by
            from comeback_ledger.policy_version
            where fleet = ?
            order by version desc
            fetch first 1 rows only
            """;
    private static final String AS_KNOWN = """
            select version, document, recorded_at_ns, recorded_by
            from comeback_ledger.policy_version
            where fleet = ? and recorded_at_ns <= ?
            order by version desc
            fetch first 1 rows only
            """;
    private static final String VERSIONS = """
            select version, document, recorded_at_ns, recorded_by
            from comeback_ledger.policy_version
            where fleet = ?
            order by version
            """;
    private static final String APPEND = """
            insert into comeback_ledger.policy_version (fleet, version, document, recorded_at_ns, recorded_by)
            values (?, ?, ?, ?, ?)
            """;

    private final Session session;
    /** Outer: whether it was read; inner: whether there is one. */
    private Optional<Optional<Stored.PolicyVersion>> newest = Optional.empty();

    PolicyRows(Session session) {
        this.session = session;
    }

    Optional<Stored.PolicyVersion> newest() {
        if (newest.isEmpty()) {
            newest = Optional.of(session.first(NEWEST, PolicyRows::row));
        }
        return newest.get();
    }

    Optional<Stored.PolicyVersion> asKnown(Instant at) {
        return session.first(AS_KNOWN, PolicyRows::row, Nanoseconds.nearest(at));
    }

    List<Stored.PolicyVersion> versions() {
        return session.list(VERSIONS, PolicyRows::row);
    }

    void append(Stored.PolicyVersion row) {
        session.run(APPEND, row.version(), row.document(), row.recordedAt(), row.by());
        newest = Optional.empty();
    }

    private static Stored.PolicyVersion row(ResultSet columns) throws SQLException {
        return new Stored.PolicyVersion(columns.getInt(1), columns.getString(2), Session.instant(columns, 3), columns.getString(4));
    }
}
