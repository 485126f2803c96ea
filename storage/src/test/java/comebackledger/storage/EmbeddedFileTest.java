package comebackledger.storage;

import static comebackledger.storage.Rows.NOON;
import static comebackledger.storage.Rows.appendNext;
import static comebackledger.storage.Rows.unit;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.concurrent.ConcurrentLinkedQueue;

import comebackledger.ledger.StoreUnavailableException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The embedded file: killed, interrupted, opened twice. */
class EmbeddedFileTest {
    private static final long SEED = 20_261_125;

    @TempDir
    Path folder;

    /** SIGKILL while four threads write; every row whose acknowledgement left the process must be there. */
    @ParameterizedTest(name = "{0} killed after {1} rows")
    @CsvSource({"PROCESS_KILL, 1", "PROCESS_KILL, 60", "PROCESS_KILL, 700", "POWER_CUT, 60"})
    void write_whenTheProcessIsKilledAfterTheAnswer_keepsTheRow(Durability durability, int rows) throws Exception {
        List<String> acknowledged = acknowledgedBeforeKill(durability, rows);

        try (JdbcStore store = JdbcStore.embedded(folder)) {
            for (String line : acknowledged) {
                String[] words = line.split(" ");
                boolean there = store.read("fleet", tx -> tx.visit(words[1], words[2], Integer.parseInt(words[3])).isPresent());
                assertTrue(there, line);
            }
            int revisions = store.read("fleet",
                    tx -> List.of("T-0", "T-1", "T-2", "T-3").stream().mapToInt(unit -> tx.visitRevisions(unit).size()).sum());
            int changes = store.read("fleet", tx -> tx.changes(0, 1_000_000).size());
            assertEquals(revisions, changes, "a transaction is whole or absent");
        }
    }

    private List<String> acknowledgedBeforeKill(Durability durability, int rows) throws IOException, InterruptedException {
        Process process = new ProcessBuilder(Path.of(System.getProperty("java.home"), "bin", "java").toString(), "-Xmx200m", "-cp",
                System.getProperty("java.class.path"), AcknowledgingWriter.class.getName(), folder.toString(), durability.name())
                .redirectError(ProcessBuilder.Redirect.DISCARD).start();
        List<String> acknowledged = new ArrayList<>();
        try (BufferedReader lines = process.inputReader()) {
            while (acknowledged.size() < rows) {
                String line = lines.readLine();
                assertTrue(line != null, "the writer ended by itself");
                acknowledged.add(line);
            }
            process.toHandle().destroyForcibly(); // the process's own method would close the pipe
            process.waitFor();
            // What was still in the pipe was acknowledged too; the kill may have cut the last line.
            lines.lines().filter(line -> line.matches("kept T-\\d WO-\\d+ \\d+")).forEach(acknowledged::add);
        }
        return acknowledged.subList(0, Math.max(rows, acknowledged.size() - 1));
    }

    /** A server interrupts a thread that passed its deadline; on the engine's plain file that closes the database for everybody. */
    @Test
    void write_whenThreadsAreInterrupted_goesOnForTheOthers() throws Exception {
        SplittableRandom random = new SplittableRandom(SEED);
        ConcurrentLinkedQueue<String> kept = new ConcurrentLinkedQueue<>();
        try (JdbcStore store = JdbcStore.embedded(folder)) {
            for (int round = 0; round < 60; round++) {
                String unit = "T-" + round;
                Thread interrupted = Thread.ofVirtual().start(() -> writeUntilInterrupted(store, unit, kept));
                Thread.sleep(random.nextInt(1, 12));
                interrupted.interrupt();
                store.write("fleet", tx -> appendNext(tx, "steady", "WO-1"));
                interrupted.join();
            }

            int steady = store.read("fleet", tx -> tx.visitRevisions("steady").size());
            assertEquals(60, steady, "seed " + SEED);
        }
        try (JdbcStore store = JdbcStore.embedded(folder)) {
            for (String row : kept) {
                boolean there = store.read("fleet", tx -> tx.visit(row.split(" ")[0], row.split(" ")[1]).isPresent());
                assertTrue(there, row);
            }
        }
    }

    private static void writeUntilInterrupted(JdbcStore store, String unit, ConcurrentLinkedQueue<String> kept) {
        try {
            for (int i = 0; i < 20; i++) {
                String visit = "WO-" + i;
                store.write("fleet", tx -> appendNext(tx, unit, visit));
                kept.add(unit + " " + visit);
            }
        } catch (StoreUnavailableException _) {
            // its own wait was interrupted: that is what it was told to expect
        }
    }

    @Test
    void embedded_whenClosedAndOpenedAgain_holdsItsRows() {
        try (JdbcStore store = JdbcStore.embedded(folder)) {
            store.write("fleet", tx -> {
                tx.append(unit("T-104", 1, NOON));
                return true;
            });
        }

        try (JdbcStore store = JdbcStore.embedded(folder)) {
            assertEquals(Optional.of(unit("T-104", 1, NOON)), store.read("fleet", tx -> tx.unit("T-104")));
            assertEquals(List.of("fleet"), store.fleets());
        }
    }

    @Test
    void embedded_whenThePathHoldsASettingOfTheEngine_isRefused() {
        Path sly = Path.of("data;INIT=drop");

        IllegalArgumentException refused = assertThrows(IllegalArgumentException.class, () -> JdbcStore.embedded(sly));

        assertEquals("the data folder must have no ; in its path, was data;INIT=drop", refused.getMessage());
    }

    @Test
    void write_afterClose_saysTheStoreIsAway() {
        JdbcStore store = JdbcStore.inMemory();
        store.close();

        assertThrows(StoreUnavailableException.class, () -> store.read("fleet", tx -> tx.unit("T-104")));
    }

    @Test
    void postgres_whenNobodyListens_saysTheStoreIsAway() {
        assertThrows(StoreUnavailableException.class, () -> JdbcStore.postgres("jdbc:postgresql://127.0.0.1:1/none", "none", "none"));
    }

    /** A process may open its file twice; each store hears of what the other wrote. */
    @Test
    void mark_ofAFileOpenedTwiceInOneProcess_countsBothWriters() {
        try (JdbcStore one = JdbcStore.embedded(folder); JdbcStore other = JdbcStore.embedded(folder)) {
            assertEquals(0, one.mark("fleet").position());
            other.write("fleet", tx -> appendNext(tx, "T-104", "WO-1"));
            assertEquals(1, one.mark("fleet").position());
            one.write("fleet", tx -> appendNext(tx, "T-104", "WO-2"));
            assertEquals(List.of(2L, 2L), List.of(one.mark("fleet").position(), other.mark("fleet").position()));
        }
    }
}
