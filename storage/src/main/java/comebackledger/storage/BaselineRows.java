package comebackledger.storage;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

import comebackledger.ledger.Stored;

/** What the fleet taught: append-only versions, because answers cite them. */
final class BaselineRows {
    private static final String NEWEST = """
            select version, learned_at_ns, content
            from comeback_ledger.baseline_version
            where fleet = ?
            order by version desc
            fetch first 1 rows only
            """;
    private static final String AS_KNOWN = """
            select version, learned_at_ns, content
            from comeback_ledger.baseline_version
            where fleet = ? and learned_at_ns <= ?
            order by version desc
            fetch first 1 rows only
            """;
    private static final String VERSIONS = """
            select version, learned_at_ns, content
            from comeback_ledger.baseline_version
            where fleet = ?
            order by version
            """;
    private static final String APPEND = """
            insert into comeback_ledger.baseline_version (fleet, version, learned_at_ns, content)
            values (?, ?, ?, ?)
            """;

    private final Session session;

    BaselineRows(Session session) {
        this.session = session;
    }

    Optional<Stored.BaselineVersion> newest() {
        return session.first(NEWEST, BaselineRows::row);
    }

    Optional<Stored.BaselineVersion> asKnown(Instant at) {
        return session.first(AS_KNOWN, BaselineRows::row, Nanoseconds.nearest(at));
    }

    List<Stored.BaselineVersion> versions() {
        return session.list(VERSIONS, BaselineRows::row);
    }

    void append(Stored.BaselineVersion row) {
        session.run(APPEND, row.version(), row.learnedAt(), row.content());
    }

    private static Stored.BaselineVersion row(ResultSet columns) throws SQLException {
        return new Stored.BaselineVersion(columns.getInt(1), Session.instant(columns, 2), columns.getBytes(3));
    }
}
