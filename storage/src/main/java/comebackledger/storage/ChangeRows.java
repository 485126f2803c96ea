package comebackledger.storage;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
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
            insert into comeback_ledger.change_run (fleet, last_position, changed_by, changes)
            values (?, ?, ?, ?)
            """;
    /** Positions have no gaps, so whatever lies between is in these rows. */
    private static final String RUNS = """
            select last_position, changed_by, changes
            from comeback_ledger.change_run
            where fleet = ? and last_position > ? and last_position < ?
            order by fleet, last_position
            """;
    /** Little enough to read for one change of it, enough to share the cost of a row; common practice, no source. */
    private static final int MOST_A_RUN = 100;

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
        List<Stored.Change> changes = new ArrayList<>();
        long span = (long) limit + MOST_A_RUN;
        long end = position > Long.MAX_VALUE - span ? Long.MAX_VALUE : position + span;
        session.list(RUNS, ChangeRows::run, position, end).forEach(changes::addAll);
        return changes.stream().filter(change -> change.position() > position).limit(limit).toList();
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
        session.batch(APPEND, runs(last).stream());
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

    /** The coming changes, as many of one caller to a row as may be. */
    private List<Object[]> runs(long last) {
        List<Object[]> runs = new ArrayList<>();
        StringBuilder lines = new StringBuilder();
        int inRun = 0;
        for (int i = 0; i < coming.size(); i++) {
            lines.append(inRun == 0 ? "" : "\n");
            append(lines, coming.get(i));
            inRun++;
            boolean ends = inRun == MOST_A_RUN || i + 1 == coming.size() || !coming.get(i + 1).by().equals(coming.get(i).by());
            if (ends) {
                runs.add(new Object[]{last + 1 + i, coming.get(i).by(), lines.toString()});
                lines.setLength(0);
                inRun = 0;
            }
        }
        return runs;
    }

    /** No identifier holds a tab. */
    private static void append(StringBuilder lines, Coming change) {
        lines.append(word(change.kind())).append('\t').append(change.unit().orElse("")).append('\t').append(change.visit().orElse("")).append('\t')
                .append(Nanoseconds.of(change.at()));
    }

    private static List<Stored.Change> run(ResultSet columns) throws SQLException {
        String[] lines = columns.getString(3).split("\n", -1);
        List<Stored.Change> changes = new ArrayList<>();
        for (int i = 0; i < lines.length; i++) {
            String[] words = lines[i].split("\t", -1);
            changes.add(new Stored.Change(columns.getLong(1) - lines.length + 1 + i, kind(words[0]), named(words[1]), named(words[2]),
                    Nanoseconds.instant(Long.parseLong(words[3])), columns.getString(2)));
        }
        return changes;
    }

    private static Optional<String> named(String word) {
        return word.isEmpty() ? Optional.empty() : Optional.of(word);
    }

    private static String word(Stored.ChangeKind kind) {
        return kind.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }

    private static Stored.ChangeKind kind(String word) {
        return Stored.ChangeKind.valueOf(word.toUpperCase(Locale.ROOT).replace('-', '_'));
    }
}
