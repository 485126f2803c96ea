package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import comebackledger.api.command.Main;
import comebackledger.ledger.Caller;
import comebackledger.ledger.Ledger;
import comebackledger.ledger.Stored;
import comebackledger.ledger.Transaction;
import comebackledger.openapi.LedgerCodec;
import comebackledger.openapi.UnitMapping;
import comebackledger.openapi.VisitMapping;
import comebackledger.storage.JdbcStore;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeSet;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The commands over a ledger of 250 units on files, one row of which was damaged behind its back. */
class VerifyAndRebuildTest {
    private static final Caller HOST = new Caller("default", "host");
    private static final Instant NOW = Instant.parse("2026-06-01T00:00:00Z");
    private static final int UNITS = 250;

    @TempDir
    private static Path folder;

    private static byte[] before = new byte[0];

    @BeforeAll
    static void tell() {
        try (JdbcStore store = JdbcStore.embedded(folder)) {
            tell(store);
            before = store.read("default", VerifyAndRebuildTest::fold).state();
        }
        Ended well = run("verify");
        assertEquals(0, well.code(), well.toString());
    }

    private record Ended(int code, String out, String err) {}

    private static Ended run(String command) {
        PrintStream out = System.out;
        PrintStream err = System.err;
        ByteArrayOutputStream said = new ByteArrayOutputStream();
        ByteArrayOutputStream complained = new ByteArrayOutputStream();
        System.setOut(new PrintStream(said, true, StandardCharsets.UTF_8));
        System.setErr(new PrintStream(complained, true, StandardCharsets.UTF_8));
        try {
            return new Ended(Main.run(new String[]{command, "--data", folder.toString()}), said.toString(StandardCharsets.UTF_8),
                    complained.toString(StandardCharsets.UTF_8));
        } finally {
            System.setOut(out);
            System.setErr(err);
        }
    }

    private static byte[] bytes(String json) {
        return json.replace('\'', '"').getBytes(StandardCharsets.UTF_8);
    }

    private static void tell(JdbcStore store) {
        Ledger ledger = new Ledger(store, new LedgerCodec(), () -> NOW, (_, _, _, _) -> {});
        for (int unit = 0; unit < UNITS; unit++) {
            ledger.putUnit(HOST, UnitMapping.toCore("T-" + unit, bytes("{}")));
        }
        for (int visit = 1; visit <= 3; visit++) {
            ledger.putVisit(HOST, "T-7", VisitMapping.toCore("WO-" + visit, bytes("{'arrivedAt': '2026-05-0" + visit
                    + "T08:00:00Z', 'releasedAt': '2026-05-0" + visit + "T09:00:00Z', 'chargeAirTests': [{'method': 'smoke', 'leaksAt': ['core']}]}"),
                    NOW),
                    OptionalInt.empty());
        }
    }

    /** What is done to the rows of one unit, and what of it verify names. */
    private record Damage(String named, Consumer<Transaction> done) {
        @Override
        public String toString() {
            return named;
        }
    }

    private static Stored.Fold fold(Transaction tx) {
        return tx.fold("T-7").orElseThrow();
    }

    private static byte[] flipped(byte[] bytes) {
        byte[] other = bytes.clone();
        other[other.length / 2] ^= 1;
        return other;
    }

    static Stream<Damage> damages() {
        byte[] rubbish = {1, 2, 3};
        return Stream.of(
                new Damage("the kept fold", tx -> tx.keepFold("T-7", new Stored.Fold(fold(tx).unitVersion(), fold(tx).policyVersion(),
                        fold(tx).lastReceivedAt(), flipped(fold(tx).state()), fold(tx).summary()))),
                new Damage("the kept fold", tx -> tx.keepFold("T-7", new Stored.Fold(fold(tx).unitVersion(), fold(tx).policyVersion(),
                        fold(tx).lastReceivedAt(), rubbish, fold(tx).summary()))),
                new Damage("the kept compact row", tx -> tx.keepFold("T-7", new Stored.Fold(fold(tx).unitVersion(), fold(tx).policyVersion(),
                        fold(tx).lastReceivedAt(), fold(tx).state(), rubbish))),
                new Damage("the kept instant of the last receipt", tx -> tx.keepFold("T-7", new Stored.Fold(fold(tx).unitVersion(),
                        fold(tx).policyVersion(), Optional.of(NOW.minusSeconds(1)), fold(tx).state(), fold(tx).summary()))),
                new Damage("the kept facts",
                        tx -> tx.keepFacts("T-7", List.of(new Stored.Facts("WO-2", Instant.parse("2026-05-02T08:00:00Z"), rubbish)))),
                new Damage("the kept facts",
                        tx -> tx.keepFacts("T-7", List.of(new Stored.Facts("WO-9", Instant.parse("2026-05-02T08:00:00Z"), rubbish)))),
                new Damage("the kept facts", tx -> tx.dropFacts("T-7", "WO-2")));
    }

    @ParameterizedTest
    @MethodSource("damages")
    void damagedRow_isNamedByVerify_andMendedByRebuild(Damage damage) {
        try (JdbcStore store = JdbcStore.embedded(folder)) {
            store.write("default", tx -> {
                tx.lock(new TreeSet<>(List.of("T-7")));
                damage.done().accept(tx);
                return true;
            });
        }

        assertNamedAndMended(damage.named());
    }

    /** Whoever keeps the tables may empty all that is derived. */
    @Test
    void missingFold_isNamedByVerify_andMadeByRebuild() throws SQLException {
        try (Connection connection = DriverManager.getConnection("jdbc:h2:" + folder.toAbsolutePath().resolve("ledger"), "sa", "");
                Statement statement = connection.createStatement()) {
            for (String table : List.of("unit_fold", "unit_summary", "facts_run")) {
                statement.execute("delete from comeback_ledger." + table);
            }
        }

        assertNamedAndMended("the fold is missing");
    }

    private static void assertNamedAndMended(String named) {
        Ended damaged = run("verify");
        assertEquals(1, damaged.code(), damaged.toString());
        assertTrue(damaged.out().contains("T-7: " + named) && damaged.out().contains("run rebuild"), damaged.out());
        assertTrue(damaged.err().contains("verified: " + UNITS + " units of default"), damaged.err());

        Ended rebuilt = run("rebuild");
        assertEquals(0, rebuilt.code(), rebuilt.toString());
        assertTrue(rebuilt.err().contains("rebuilt: " + UNITS + " units of default"), rebuilt.err());
        Ended again = run("verify");
        assertEquals(0, again.code(), again.toString());
        assertEquals("All that is stored agrees with the evidence.", again.out().strip());
        try (JdbcStore store = JdbcStore.embedded(folder)) {
            assertArrayEquals(before, store.read("default", VerifyAndRebuildTest::fold).state());
        }
    }
}
