package comebackledger.storage;

import static comebackledger.storage.Rows.NOON;
import static comebackledger.storage.Rows.facts;
import static comebackledger.storage.Rows.units;

import java.io.IOException;
import java.lang.management.ManagementFactory;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

import com.sun.management.OperatingSystemMXBean;

import comebackledger.ledger.Stored;
import comebackledger.ledger.Transaction;

/**
 * The cost of what an import asks of the store, beside a bare JDBC batch insert of the same documents into one table; both on an H2 file that writes
 * at each commit, 1 000 visits a transaction, by turns. Run its main with the test class path; it is no timed test.
 */
final class ImportBenchmark {
    private static final int VISITS = 40_000;
    private static final int A_TRANSACTION = 1_000;
    private static final int VISITS_A_UNIT = 20; // 100 000 units and 2 million visits, DESIGN 8
    private static final int ROUNDS = 5;
    private static final String DOCUMENT = "{\"complaint\":\"" + "0123456789abcdef".repeat(60) + "\"}"; // about 1 KB, a visit with one bus check
    private static final byte[] STATE = "s".repeat(2_000).getBytes(StandardCharsets.UTF_8);

    private ImportBenchmark() {}

    public static void main(String[] arguments) throws Exception {
        List<Double> wall = new ArrayList<>();
        List<Double> processor = new ArrayList<>();
        for (int round = 0; round < ROUNDS; round++) {
            Cost bare = bare();
            Cost store = store();
            wall.add((double) bare.wallNs() / store.wallNs());
            processor.add((double) bare.processorNs() / store.processorNs());
            System.out.printf("a visit: bare %d us, store %d us; ratio by the wall %.2f, by the processor %.2f%n", bare.wallNs() / VISITS / 1_000,
                    store.wallNs() / VISITS / 1_000, wall.getLast(), processor.getLast());
        }
        System.out.printf("median ratio by the wall %.2f, by the processor %.2f%n", median(wall), median(processor));
    }

    /** The processor time counts on a machine that others use too. */
    private record Cost(long wallNs, long processorNs) {
        static Cost now() {
            return new Cost(System.nanoTime(), ManagementFactory.getPlatformMXBean(OperatingSystemMXBean.class).getProcessCpuTime());
        }

        Cost since(Cost from) {
            return new Cost(wallNs - from.wallNs, processorNs - from.processorNs);
        }
    }

    private static double median(List<Double> values) {
        return values.stream().sorted().toList().get(values.size() / 2);
    }

    private static Cost bare() throws SQLException, IOException {
        Path folder = Files.createTempDirectory("bare");
        try (Connection connection = DriverManager.getConnection("jdbc:h2:file:" + folder.resolve("bare") + ";WRITE_DELAY=0;CACHE_SIZE=65536", "sa",
                "")) {
            connection.setAutoCommit(false);
            try (PreparedStatement create = connection.prepareStatement("create table bare (id bigint primary key, evidence varchar)")) {
                create.execute();
            }
            Cost from = Cost.now();
            try (PreparedStatement insert = connection.prepareStatement("insert into bare (id, evidence) values (?, ?)")) {
                for (int i = 0; i < VISITS; i++) {
                    insert.setLong(1, i);
                    insert.setString(2, DOCUMENT + i);
                    insert.addBatch();
                    if ((i + 1) % A_TRANSACTION == 0) {
                        insert.executeBatch();
                        connection.commit();
                    }
                }
            }
            return Cost.now().since(from);
        } finally {
            delete(folder);
        }
    }

    private static Cost store() throws IOException {
        Path folder = Files.createTempDirectory("store");
        try (JdbcStore store = JdbcStore.embedded(folder)) {
            Cost from = Cost.now();
            for (int first = 0; first < VISITS; first += A_TRANSACTION) {
                int start = first;
                store.write("fleet", tx -> {
                    String[] names = new String[A_TRANSACTION / VISITS_A_UNIT];
                    Arrays.setAll(names, i -> unit(start + i * VISITS_A_UNIT));
                    tx.lock(units(names));
                    for (int i = start; i < start + A_TRANSACTION; i++) {
                        one(tx, i);
                    }
                    return true;
                });
            }
            return Cost.now().since(from);
        } finally {
            delete(folder);
        }
    }

    private static String unit(int visit) {
        return String.format("T-%06d", visit / VISITS_A_UNIT);
    }

    private static void one(Transaction tx, int i) {
        String unit = unit(i);
        String visit = "WO-" + i;
        tx.unit(unit);
        tx.policy();
        tx.visit(unit, visit);
        tx.append(new Stored.VisitRevision(unit, visit, 1, NOON.plusSeconds(i), false, DOCUMENT + i, NOON.plusSeconds(i), "ada"));
        tx.fold(unit);
        tx.keepFacts(unit, List.of(facts(visit, NOON.plusSeconds(i), "f".repeat(300))));
        tx.keepFold(unit, new Stored.Fold(1, 0, Optional.of(NOON), STATE, new byte[200]));
        tx.change(Stored.ChangeKind.VISIT_RECORDED, Optional.of(unit), Optional.of(visit), NOON, "ada");
    }

    private static void delete(Path folder) throws IOException {
        try (var files = Files.list(folder)) {
            for (Path file : files.toList()) {
                Files.delete(file);
            }
        }
        Files.delete(folder);
    }
}
