package comebackledger.storage;

import static comebackledger.storage.Rows.NOON;
import static comebackledger.storage.Rows.appendNext;
import static comebackledger.storage.Rows.facts;
import static comebackledger.storage.Rows.fold;
import static comebackledger.storage.Rows.unit;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import javax.sql.DataSource;

import comebackledger.ledger.Stored;
import comebackledger.ledger.StoreUnavailableException;
import comebackledger.ledger.Transaction;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What becomes of a transaction when its n-th statement fails, over a host's data source. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
abstract class FaultContract {
    private final FailingDataSource failing = new FailingDataSource(dataSource());
    private final JdbcStore store = JdbcStore.over(failing.dataSource());
    private int runs;

    abstract DataSource dataSource();

    private int work(Transaction tx) {
        runs++;
        int revision = appendNext(tx, "T-104", "WO-1");
        tx.append(unit("T-104", 1, NOON));
        tx.append(new Stored.PolicyVersion(1, "{}", NOON, "ada"));
        tx.keepFacts("T-104", List.of(facts("WO-1", NOON, "one")));
        tx.dropFacts("T-104", "WO-2");
        tx.keepFold("T-104", fold("state"));
        return revision;
    }

    private int rows(String fleet) {
        return store.read(fleet, tx -> tx.visitRevisions("T-104").size() + tx.unitVersions("T-104").size() + tx.policyVersions().size()
                + tx.facts("T-104").size() + (tx.fold("T-104").isPresent() ? 1 : 0) + tx.changes(0, 10).size());
    }

    @ParameterizedTest
    @ValueSource(strings = {"40001", "23505"})
    void write_whenAnyOneStatementConflicts_runsAgainAndStoresOnce(String state) {
        int statement = 1;
        boolean reached = true;
        for (; reached; statement++) {
            String fleet = "once-" + state + "-" + statement;
            runs = 0;
            failing.failOnce(statement, state);

            int revision = store.write(fleet, this::work);

            reached = failing.failures() == 1;
            failing.heal();
            assertEquals(1, revision, fleet);
            assertEquals(6, rows(fleet), fleet);
            assertTrue(runs <= 2, fleet);
        }
        assertTrue(statement > 12, "every statement and the commit was tried, up to " + statement);
    }

    @ParameterizedTest
    @ValueSource(strings = {"40P01", "55P03", "HYT00"})
    void write_whenAStatementConflicts_runsAgain(String state) {
        failing.failOnce(3, state);

        int revision = store.write("again-" + state, this::work);

        failing.heal();
        assertEquals(List.of(1, 1), List.of(revision, failing.failures()));
    }

    @Test
    void write_whenTheConflictDoesNotEnd_givesUpAfterThreeRunsAndLeavesNothing() {
        runs = 0;
        failing.failFrom(4, "40001");

        assertThrows(StoreUnavailableException.class, () -> store.write("gave-up", this::work));

        failing.heal();
        assertEquals(3, failing.failures());
        assertEquals(0, rows("gave-up"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"08006", "53300", "57P01", "58030", "90098"})
    void write_whenTheEngineIsAway_saysSoAtOnceAndLeavesNothing(String state) {
        for (int statement = 1; statement <= 10; statement += 3) {
            String fleet = "away-" + state + "-" + statement;
            failing.failOnce(statement, state);

            assertThrows(StoreUnavailableException.class, () -> store.write(fleet, this::work));

            failing.heal();
            assertEquals(0, rows(fleet), fleet);
        }
    }

    @Test
    void write_whenAStatementIsRefused_saysItIsOurFault() {
        failing.failOnce(3, "42601");

        IllegalStateException refused = assertThrows(IllegalStateException.class, () -> store.write("refused", this::work));

        failing.heal();
        assertEquals("The store refused a statement, SQLSTATE 42601", refused.getMessage());
        assertEquals(0, rows("refused"));
    }

    /** An import that goes on with the next line after any exception must not commit half a line. */
    @Test
    void write_whenTheWorkSwallowsAFailure_runsAgain() {
        failing.failOnce(2, "40001");

        int revision = store.write("swallowed", tx -> {
            try {
                tx.policy();
                tx.unit("T-104");
            } catch (RuntimeException _) {
                return appendNext(tx, "T-104", "WO-1") + 100;
            }
            return appendNext(tx, "T-104", "WO-1");
        });

        failing.heal();
        assertEquals(1, revision);
    }

    @Test
    void over_leavesTheHostsConnectionsCommittingByThemselves() throws Exception {
        store.write("host", this::work);

        try (var connection = dataSource().getConnection(); var statement = connection.createStatement()) {
            assertTrue(connection.getAutoCommit());
            statement.execute("create table hosts_own (id integer)");
            statement.execute("insert into hosts_own values (1)");
            statement.execute("drop table hosts_own");
        }
        JdbcStore again = JdbcStore.over(dataSource());
        again.close();
        assertEquals(Optional.of(1), again.read("host", tx -> tx.unit("T-104").map(Stored.UnitVersion::version)),
                "migrated twice, closed, source open");
    }
}
