package comebackledger.storage;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.Stream;

import comebackledger.ledger.Stored;

/**
 * The change feed. Positions are taken last in the transaction, under the lock of the fleet's head row, and the lock goes with the commit: a change is
 * visible before the next position can be taken, so a reader who asks for positions above its last one misses none and meets none twice.
 */
final class ChangeRows {
    private static final String LOCK_HEAD = """
            select last_position
            from comeback_ledger.fleet_head
            where fleet = ?
            for update
            """;
    private static final String HEAD = """
            select last_position
            from comeback_ledger.fleet_head
            where fleet = ?
            """;
    private static final String MARK = """
            select h.last_position, (select max(b.version) from comeback_ledger.baseline_version b where b.fleet = h.fleet)
            from comeback_ledger.fleet_head h
            where h.fleet = ?
            """;
    private static final String ADD_HEAD = """
            insert into comeback_ledger.fleet_head (fleet, last_position)
            values (?, 0)
            """;
    private static final String MOVE_HEAD = """
            merge into comeback_ledger.fleet_head t
            using (select cast(? as varchar) fleet, cast(? as bigint) last_position) s
            on t.fleet = s.fleet
            when matched then update set last_position = s.last_position
            """;
    private static final String APPEND = """
            insert into comeback_ledger.change_feed (fleet, feed_position, kind, unit, visit, changed_at_ns, changed_by)
            values (?, ?, ?, ?, ?, ?, ?)
            """;
    private static final String AFTER = """
            select feed_position, kind, unit, visit, changed_at_ns, changed_by
            from comeback_ledger.change_feed
            where fleet = ? and feed_position > ?
            order by fleet, feed_position
            fetch first ? rows only
            """;

    /** A change without its place yet. */
    private record Coming(Stored.ChangeKind kind, Optional<String> unit, Optional<String> visit, Instant at, String by) {}

    private final Session session;
    private final List<Coming> coming = new ArrayList<>();

    ChangeRows(Session session) {
        this.session = session;
    }

    void add(Stored.ChangeKind kind, Optional<String> unit, Optional<String> visit, Instant at, String by) {
        coming.add(new Coming(kind, unit, visit, at, by));
    }

    Stored.Mark mark() {
        return session.first(MARK, columns -> new Stored.Mark(columns.getLong(1), columns.getInt(2))).orElse(new Stored.Mark(0, 0));
    }

    List<Stored.Change> after(long position, int limit) {
        return session.list(AFTER, ChangeRows::row, position, limit);
    }

    /** The last statements of a transaction: whoever holds the fleet's head makes all its other writers wait. */
    void end() {
        if (coming.isEmpty()) {
            if (session.first(HEAD, columns -> columns.getLong(1)).isEmpty()) {
                addHead();
            }
            return;
        }
        long last = lockedHead();
        session.batch(APPEND, IntStream.range(0, coming.size()).mapToObj(i -> columns(last + 1 + i, coming.get(i))));
        session.run(MOVE_HEAD, last + coming.size());
        coming.clear();
    }

    private long lockedHead() {
        while (true) {
            Optional<Long> last = session.first(LOCK_HEAD, columns -> columns.getLong(1));
            if (last.isPresent()) {
                return last.get();
            }
            addHead();
        }
    }

    /** It is there afterwards, whoever added it. */
    private void addHead() {
        session.insertUnlessTaken(ADD_HEAD, Stream.of(new Object[][]{{}}));
    }

    private static Object[] columns(long position, Coming row) {
        return new Object[]{position, word(row.kind()), row.unit(), row.visit(), row.at(), row.by()};
    }

    private static Stored.Change row(ResultSet columns) throws SQLException {
        return new Stored.Change(columns.getLong(1), kind(columns.getString(2)), Optional.ofNullable(columns.getString(3)),
                Optional.ofNullable(columns.getString(4)), Session.instant(columns, 5), columns.getString(6));
    }

    private static String word(Stored.ChangeKind kind) {
        return kind.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    private static Stored.ChangeKind kind(String word) {
        return Stored.ChangeKind.valueOf(word.toUpperCase(Locale.ROOT).replace('-', '_'));
    }
}
