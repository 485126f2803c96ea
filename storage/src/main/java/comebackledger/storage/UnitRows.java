package comebackledger.storage;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;
import java.time.Instant;

import comebackledger.ledger.Stored;

/** Units: the row that writers of one unit queue behind, and the append-only versions. */
final class UnitRows {
    private static final String LOCK_ONE = """
            select unit
            from comeback_ledger.unit_head
            where fleet = ? and unit = ?
            for update
            """;
    private static final String HEAD = """
            select unit
            from comeback_ledger.unit_head
            where fleet = ? and unit = ?
            """;
    private static final String ADD_HEAD = """
            insert into comeback_ledger.unit_head (fleet, unit)
            values (?, ?)
            """;
    private static final String NEWEST = """
            select unit, version, document, recorded_at_ns, recorded_by
            from comeback_ledger.unit_version
            where fleet = ? and unit = ?
            order by version desc
            fetch first 1 rows only
            """;
    private static final String AS_KNOWN = """
            select unit, version, document, recorded_at_ns, recorded_by
            from comeback_ledger.unit_version
            where fleet = ? and unit = ? and recorded_at_ns <= ?
            order by version desc
            fetch first 1 rows only
            """;
    private static final String VERSIONS = """
            select unit, version, document, recorded_at_ns, recorded_by
            from comeback_ledger.unit_version
            where fleet = ? and unit = ?
            order by version
            """;
    private static final String PAGE = """
            select unit, version, document, recorded_at_ns, recorded_by
            from comeback_ledger.unit_version v
            where fleet = ? and unit > ?
              and not exists (
                select 1
                from comeback_ledger.unit_version later
                where later.fleet = v.fleet and later.unit = v.unit and later.version > v.version)
            order by fleet, unit
            fetch first ? rows only
            """;
    private static final String APPEND = """
            insert into comeback_ledger.unit_version (fleet, unit, version, document, recorded_at_ns, recorded_by)
            values (?, ?, ?, ?, ?, ?)
            """;

    private final Session session;
    private final Waiting<Stored.UnitVersion> waiting;
    private final Set<String> locked = new HashSet<>();
    /** Of locked units only: nobody else can append to them. */
    private final Map<String, Optional<Stored.UnitVersion>> newest = new HashMap<>();

    UnitRows(Session session) {
        this.session = session;
        waiting = new Waiting<>(row -> row.document().length(), rows -> session.batch(APPEND, rows.stream().map(UnitRows::columns)));
    }

    void lock(SortedSet<String> units) {
        List<String> wanted = units.stream().filter(unit -> !locked.contains(unit)).toList();
        if (wanted.size() == 1) {
            lock(wanted.getFirst());
        } else if (!wanted.isEmpty()) {
            lockAll(wanted);
        }
        locked.addAll(wanted);
    }

    boolean isLocked(String unit) {
        return locked.contains(unit);
    }

    private void lock(String unit) {
        boolean held = false;
        while (!held) {
            held = !session.list(LOCK_ONE, columns -> columns.getString(1), unit).isEmpty() || addHeads(List.of(unit));
        }
    }

    /**
     * New heads first, then locks, each in sorted order: whoever waits for a new head holds no lock yet, so no two batches wait for each other. A statement a
     * unit, because an engine may read the whole table for a list of them.
     */
    private void lockAll(List<String> units) {
        List<String> missing = missing(units);
        while (!missing.isEmpty() && !addHeads(missing)) {
            missing = missing(missing); // fewer each time: another writer's are there now
        }
        units.forEach(unit -> session.first(LOCK_ONE, columns -> columns.getString(1), unit));
    }

    private List<String> missing(List<String> units) {
        return units.stream().filter(unit -> session.first(HEAD, columns -> columns.getString(1), unit).isEmpty()).toList();
    }

    private boolean addHeads(List<String> units) {
        return session.insertUnlessTaken(ADD_HEAD, units.stream().map(unit -> new Object[]{unit}));
    }

    Optional<Stored.UnitVersion> newest(String unit) {
        Optional<Stored.UnitVersion> known = newest.get(unit);
        if (known != null) {
            return known;
        }
        waiting.flush();
        Optional<Stored.UnitVersion> read = session.first(NEWEST, UnitRows::row, unit);
        if (locked.contains(unit)) {
            newest.put(unit, read);
        }
        return read;
    }

    Optional<Stored.UnitVersion> asKnown(String unit, Instant at) {
        waiting.flush();
        return session.first(AS_KNOWN, UnitRows::row, unit, Nanoseconds.nearest(at));
    }

    List<Stored.UnitVersion> page(Optional<String> after, int limit) {
        waiting.flush();
        return session.list(PAGE, UnitRows::row, after.orElse(""), limit);
    }

    List<Stored.UnitVersion> versions(String unit) {
        waiting.flush();
        return session.list(VERSIONS, UnitRows::row, unit);
    }

    void append(Stored.UnitVersion version) {
        waiting.add(version);
        newest.remove(version.unit());
        if (locked.contains(version.unit())) {
            newest.put(version.unit(), Optional.of(version));
        }
    }

    void flush() {
        waiting.flush();
    }

    private static Object[] columns(Stored.UnitVersion row) {
        return new Object[]{row.unit(), row.version(), row.document(), row.recordedAt(), row.by()};
    }

    private static Stored.UnitVersion row(ResultSet columns) throws SQLException {
        return new Stored.UnitVersion(columns.getString(1), columns.getInt(2), columns.getString(3), Session.instant(columns, 4),
                columns.getString(5));
    }
}
