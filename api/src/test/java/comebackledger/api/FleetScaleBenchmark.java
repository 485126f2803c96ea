package comebackledger.api;

import comebackledger.api.transfer.LineImport;
import comebackledger.ledger.Caller;
import comebackledger.ledger.Ledger;
import comebackledger.openapi.LedgerCodec;
import comebackledger.storage.JdbcStore;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.lang.management.ManagementFactory;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.InstantSource;
import java.util.Locale;

/**
 * What a fleet of a given size costs: {@code FleetScaleBenchmark UNITS VISITS FOLDER}. It invents the fleet, imports it by the product's own road beside a
 * bare JDBC batch insert of the same lines, then times each answer. A folder that holds the fleet already is only asked. Everything is told as a ratio
 * within the run; the times beside them belong to the machine.
 */
final class FleetScaleBenchmark {
    private static final int WARM_UP_UNITS = 1_000;
    private static final long TELL_EVERY_NS = 20_000_000_000L;
    private static final int A_TRANSACTION = 1_000; // rows of the bare insert

    private final Path folder;
    private final int units;
    private final int visits;

    private FleetScaleBenchmark(Path folder, int units, int visits) {
        this.folder = folder;
        this.units = units;
        this.visits = visits;
    }

    public static void main(String[] arguments) throws Exception {
        if (arguments.length != 3) {
            System.err.println("FleetScaleBenchmark UNITS VISITS_A_UNIT FOLDER");
            return;
        }
        FleetScaleBenchmark benchmark = new FleetScaleBenchmark(Path.of(arguments[2]), Integer.parseInt(arguments[0]),
                Integer.parseInt(arguments[1]));
        benchmark.run();
    }

    private void run() throws Exception {
        Path data = folder.resolve("data");
        if (!Files.exists(data)) {
            Path lines = folder.resolve("fleet.ndjson");
            Files.createDirectories(folder);
            ScaleFleet.write(lines, units, visits);
            bring(lines, data);
        }
        new FleetScaleAnswers(data, units).run();
    }

    /** The import beside the bare insert; both once before with a part, because the machine's compiler is not what is measured. */
    private void bring(Path lines, Path data) throws Exception {
        Path part = folder.resolve("part.ndjson");
        ScaleFleet.write(part, Math.min(units, WARM_UP_UNITS), visits);
        bare(part);
        product(part, Files.createTempDirectory(folder, "part"));
        Cost bare = bare(lines);
        Cost product = product(lines, data);
        long rows = (long) units * (visits + 1);
        System.out.printf(Locale.ROOT,
                "import of %d units and %d visits (%.0f MB): bare %.1f us a row (%.1f processor), product %.1f us a row (%.1f); ratio of rows/s by the wall "
                        + "%.3f, by processor time %.3f; largest heap %d MiB, most used after collection %.0f MiB%n",
                units, rows - units, Files.size(lines) / 1e6,
                bare.wallNs() / 1e3 / rows, bare.processorNs() / 1e3 / rows, product.wallNs() / 1e3 / rows, product.processorNs() / 1e3 / rows,
                (double) bare.wallNs() / product.wallNs(),
                (double) bare.processorNs() / product.processorNs(), Runtime.getRuntime().maxMemory() >> 20, FleetScaleAnswers.usedMib());
    }

    /** How the cost of a row goes while the store grows: a line now and then. */
    private static final class Told {
        private long lines;
        private Cost last = Cost.now();

        void now(long read) {
            Cost cost = Cost.now().since(last);
            if (cost.wallNs() > TELL_EVERY_NS) {
                System.out.printf(Locale.ROOT, "  %d lines; the last %d at %.1f us a row (%.1f processor)%n", read, read - lines,
                        cost.wallNs() / 1e3 / (read - lines), cost.processorNs() / 1e3 / (read - lines));
                lines = read;
                last = Cost.now();
            }
        }
    }

    record Cost(long wallNs, long processorNs) {
        static Cost now() {
            return new Cost(System.nanoTime(),
                    ManagementFactory.getPlatformMXBean(com.sun.management.OperatingSystemMXBean.class).getProcessCpuTime());
        }

        Cost since(Cost from) {
            return new Cost(wallNs - from.wallNs, processorNs - from.processorNs);
        }
    }

    private Cost bare(Path lines) throws SQLException, IOException {
        Path file = folder.resolve("bare");
        try (Connection connection = DriverManager.getConnection("jdbc:h2:file:" + file.toAbsolutePath() + ";WRITE_DELAY=0;CACHE_SIZE=65536", "sa",
                "")) {
            connection.setAutoCommit(false);
            try (PreparedStatement create = connection.prepareStatement("create table bare (id bigint primary key, evidence varchar)")) {
                create.execute();
            }
            Cost from = Cost.now();
            try (PreparedStatement insert = connection.prepareStatement("insert into bare (id, evidence) values (?, ?)");
                    BufferedReader in = Files.newBufferedReader(lines)) {
                long id = 0;
                for (String line = in.readLine(); line != null; line = in.readLine()) {
                    insert.setLong(1, id++);
                    insert.setString(2, line);
                    insert.addBatch();
                    if (id % A_TRANSACTION == 0) {
                        insert.executeBatch();
                        connection.commit();
                    }
                }
                insert.executeBatch();
                connection.commit();
            }
            return Cost.now().since(from);
        } finally {
            Files.deleteIfExists(folder.resolve("bare.mv.db"));
        }
    }

    private static Cost product(Path lines, Path data) throws IOException {
        try (JdbcStore store = JdbcStore.embedded(data); InputStream in = Files.newInputStream(lines)) {
            Ledger ledger = new Ledger(store, new LedgerCodec(), InstantSource.system(), (_, _, _, _) -> {});
            LineImport taken = new LineImport(ledger, new Caller("default", "benchmark"), true);
            Cost from = Cost.now();
            Told told = new Told();
            taken.takeLines(in, told::now);
            if (taken.tally().rejected() > 0) {
                throw new IllegalStateException("rejected lines: " + taken.tally().problems());
            }
            return Cost.now().since(from);
        }
    }
}
