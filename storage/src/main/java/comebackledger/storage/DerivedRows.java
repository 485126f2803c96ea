package comebackledger.storage;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;

import comebackledger.ledger.Stored;

/** What was folded from a unit's visits: replaced in place. The last of several writes of one row goes out. */
final class DerivedRows {
    private static final int SUMMARIES_A_PAGE = 1_000; // common practice, no source
    private static final long MOST_WAITING_BYTES = 8_000_000; // twice the evidence that waits beside it

    private static final String FOLD = """
            select f.unit_version, f.policy_version, f.last_received_at_ns, f.state, s.summary
            from comeback_ledger.unit_fold f
            join comeback_ledger.unit_summary s on s.fleet = f.fleet and s.unit = f.unit
            where f.fleet = ? and f.unit = ?
            """;
    private static final String KEEP_FOLD = """
            merge into comeback_ledger.unit_fold t
            using (
              select cast(? as varchar) fleet, cast(? as varchar) unit, cast(? as integer) unit_version, cast(? as integer) policy_version,
                cast(? as bigint) last_received_at_ns, cast(? as bytea) state) s
            on t.fleet = s.fleet and t.unit = s.unit
            when matched then update set unit_version = s.unit_version, policy_version = s.policy_version,
              last_received_at_ns = s.last_received_at_ns, state = s.state
            when not matched then insert (fleet, unit, unit_version, policy_version, last_received_at_ns, state)
              values (s.fleet, s.unit, s.unit_version, s.policy_version, s.last_received_at_ns, s.state)
            """;
    private static final String KEEP_SUMMARY = """
            merge into comeback_ledger.unit_summary t
            using (
              select cast(? as varchar) fleet, cast(? as varchar) unit, cast(? as integer) unit_version, cast(? as integer) policy_version,
                cast(? as bytea) summary) s
            on t.fleet = s.fleet and t.unit = s.unit
            when matched then update set unit_version = s.unit_version, policy_version = s.policy_version, summary = s.summary
            when not matched then insert (fleet, unit, unit_version, policy_version, summary)
              values (s.fleet, s.unit, s.unit_version, s.policy_version, s.summary)
            """;
    private static final String SUMMARIES = """
            select unit, unit_version, policy_version, summary
            from comeback_ledger.unit_summary
            where fleet = ? and unit > ?
            order by fleet, unit
            fetch first ? rows only
            """;
    private static final String RESTAMP_FOLDS = """
            merge into comeback_ledger.unit_fold t
            using (select cast(? as varchar) fleet, cast(? as integer) was, cast(? as integer) becomes) s
            on t.fleet = s.fleet and t.policy_version = s.was
            when matched then update set policy_version = s.becomes
            """;
    private static final String RESTAMP_SUMMARIES = """
            merge into comeback_ledger.unit_summary t
            using (select cast(? as varchar) fleet, cast(? as integer) was, cast(? as integer) becomes) s
            on t.fleet = s.fleet and t.policy_version = s.was
            when matched then update set policy_version = s.becomes
            """;

    private final Session session;
    private final Map<String, Stored.Fold> folds = new LinkedHashMap<>();
    private long waitingBytes;

    DerivedRows(Session session) {
        this.session = session;
    }

    Optional<Stored.Fold> fold(String unit) {
        Optional<Stored.Fold> waiting = Optional.ofNullable(folds.get(unit));
        return waiting.isPresent() ? waiting : session.first(FOLD, DerivedRows::fold, unit);
    }

    void keepFold(String unit, Stored.Fold fold) {
        folds.put(unit, fold);
        grow(fold.state().length + fold.summary().length);
    }

    /** A page at a time: one page of rows is all that is held. */
    void eachSummary(Consumer<Stored.Summary> row) {
        flush();
        String after = "";
        List<Stored.Summary> page;
        do {
            page = session.list(SUMMARIES,
                    columns -> new Stored.Summary(columns.getString(1), columns.getInt(2), columns.getInt(3), columns.getBytes(4)), after,
                    SUMMARIES_A_PAGE);
            page.forEach(row);
            after = page.isEmpty() ? after : page.getLast().unit();
        } while (page.size() == SUMMARIES_A_PAGE);
    }

    void restamp(int policyVersion, int newPolicyVersion) {
        flush();
        session.run(RESTAMP_FOLDS, policyVersion, newPolicyVersion);
        session.run(RESTAMP_SUMMARIES, policyVersion, newPolicyVersion);
    }

    void flush() {
        if (!folds.isEmpty()) {
            session.batch(KEEP_FOLD, folds.entrySet().stream().map(entry -> {
                Stored.Fold fold = entry.getValue();
                return new Object[]{entry.getKey(), fold.unitVersion(), fold.policyVersion(), fold.lastReceivedAt(), fold.state()};
            }));
            session.batch(KEEP_SUMMARY, folds.entrySet().stream().map(entry -> {
                Stored.Fold fold = entry.getValue();
                return new Object[]{entry.getKey(), fold.unitVersion(), fold.policyVersion(), fold.summary()};
            }));
            folds.clear();
        }
        waitingBytes = 0;
    }

    private void grow(long bytes) {
        waitingBytes += bytes;
        if (waitingBytes >= MOST_WAITING_BYTES) {
            flush();
        }
    }

    private static Stored.Fold fold(ResultSet columns) throws SQLException {
        return new Stored.Fold(columns.getInt(1), columns.getInt(2), Session.optionalInstant(columns, 3), columns.getBytes(4), columns.getBytes(5));
    }
}
