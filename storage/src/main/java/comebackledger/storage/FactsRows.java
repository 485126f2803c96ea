package comebackledger.storage;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.DataInputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

import comebackledger.ledger.Stored;

/**
 * What was judged of each visit. What one transaction keeps of a unit shares a row, named after its first visit: an engine pays for each row and its key, and
 * an import has many of them. A run that holds a visit judged again or dropped is written again.
 */
final class FactsRows {
    private static final int MOST_RUN_BYTES = 32_768; // little enough to write again for one visit of it; common practice, no source
    private static final long MOST_WAITING_BYTES = 4_000_000; // as much as the evidence that waits beside it

    private static final String RUNS = """
            select first_visit, facts
            from comeback_ledger.facts_run
            where fleet = ? and unit = ?
            """;
    private static final String ADD = """
            insert into comeback_ledger.facts_run (fleet, unit, first_visit, facts)
            values (?, ?, ?, ?)
            """;
    private static final String DROP = """
            delete from comeback_ledger.facts_run
            where fleet = ? and unit = ? and first_visit = ?
            """;

    private record Run(String firstVisit, List<Stored.Facts> facts) {}

    private final Session session;
    private final VisitRows visits;
    /** Sent by this transaction; a second write of one of them replaces it. */
    private final Set<VisitName> sent = new HashSet<>();
    /** By unit, then by visit; empty where the visit's facts are to be dropped. */
    private final Map<String, Map<String, Optional<Stored.Facts>>> waiting = new LinkedHashMap<>();
    private long waitingBytes;

    FactsRows(Session session, VisitRows visits) {
        this.session = session;
        this.visits = visits;
    }

    /** In the order of the visits. */
    List<Stored.Facts> of(String unit) {
        flush(unit);
        return session.list(RUNS, FactsRows::run, unit).stream().flatMap(run -> run.facts().stream())
                .sorted(Comparator.comparing(Stored.Facts::arrivedAt).thenComparing(Stored.Facts::visit)).toList();
    }

    void keep(String unit, Collection<Stored.Facts> rows) {
        for (Stored.Facts row : rows) {
            wait(unit, row.visit(), Optional.of(row));
            waitingBytes += row.facts().length;
        }
        if (waitingBytes >= MOST_WAITING_BYTES) {
            flush();
        }
    }

    void drop(String unit, String visit) {
        wait(unit, visit, Optional.empty());
    }

    private void wait(String unit, String visit, Optional<Stored.Facts> row) {
        waiting.computeIfAbsent(unit, _ -> new LinkedHashMap<>()).put(visit, row);
    }

    void flush() {
        List<Object[]> fresh = new ArrayList<>();
        waiting.forEach((unit, rows) -> send(unit, rows, fresh));
        waiting.clear();
        waitingBytes = 0;
        add(fresh);
    }

    private void flush(String unit) {
        Map<String, Optional<Stored.Facts>> rows = waiting.remove(unit);
        if (rows != null) {
            List<Object[]> fresh = new ArrayList<>();
            send(unit, rows, fresh);
            add(fresh);
        }
    }

    private void add(List<Object[]> rows) {
        if (!rows.isEmpty()) {
            session.batch(ADD, rows.stream());
        }
    }

    /** Rows that can be there already are looked for; in an import nearly none can. */
    private void send(String unit, Map<String, Optional<Stored.Facts>> rows, List<Object[]> fresh) {
        List<Stored.Facts> toAdd = new ArrayList<>();
        if (!rows.keySet().stream().allMatch(visit -> visits.isFirstHere(unit, visit) && !sent.contains(new VisitName(unit, visit)))) {
            for (Run run : session.list(RUNS, FactsRows::run, unit)) {
                if (run.facts().stream().anyMatch(kept -> rows.containsKey(kept.visit()))) {
                    session.run(DROP, unit, run.firstVisit());
                    run.facts().stream().filter(kept -> !rows.containsKey(kept.visit())).forEach(toAdd::add);
                }
            }
        }
        rows.forEach((visit, row) -> {
            sent.add(new VisitName(unit, visit));
            row.ifPresent(toAdd::add);
        });
        pack(unit, toAdd, fresh);
    }

    private static void pack(String unit, List<Stored.Facts> facts, List<Object[]> runs) {
        int from = 0;
        int bytes = 0;
        for (int i = 0; i < facts.size(); i++) {
            bytes += facts.get(i).facts().length;
            if (bytes >= MOST_RUN_BYTES || i + 1 == facts.size()) {
                runs.add(new Object[]{unit, facts.get(from).visit(), packed(facts.subList(from, i + 1))});
                from = i + 1;
                bytes = 0;
            }
        }
    }

    private static byte[] packed(List<Stored.Facts> facts) {
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        try (DataOutputStream out = new DataOutputStream(bytes)) {
            for (Stored.Facts row : facts) {
                out.writeUTF(row.visit());
                out.writeLong(Nanoseconds.of(row.arrivedAt()));
                out.writeInt(row.facts().length);
                out.write(row.facts());
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return bytes.toByteArray();
    }

    private static Run run(ResultSet columns) throws SQLException {
        List<Stored.Facts> facts = new ArrayList<>();
        try (DataInputStream in = new DataInputStream(new ByteArrayInputStream(columns.getBytes(2)))) {
            while (in.available() > 0) {
                facts.add(new Stored.Facts(in.readUTF(), Nanoseconds.instant(in.readLong()), in.readNBytes(in.readInt())));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return new Run(columns.getString(1), facts);
    }
}
