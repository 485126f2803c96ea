package comebackledger.storage;

import static comebackledger.storage.Rows.NOON;
import static comebackledger.storage.Rows.noon;
import static comebackledger.storage.Rows.visit;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javax.sql.DataSource;

import comebackledger.ledger.Stored;
import org.flywaydb.core.Flyway;
import org.h2.jdbcx.JdbcDataSource;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.postgresql.ds.PGSimpleDataSource;

/** A ledger of the first version of the tables, opened by this one: evidence and the feed are there, what was derived is made again. */
class MigrationTest {
    private static final String VISIT = """
            insert into comeback_ledger.visit_revision
              (fleet, unit, visit, revision, arrived_at_ns, voided, evidence, received_at_ns, recorded_by)
            values ('fleet', 'T-104', 'WO-1', 1, %s, false, '{}', %s, 'ada')
            """;
    private static final String CHANGES = """
            insert into comeback_ledger.change_feed (fleet, feed_position, kind, unit, visit, changed_at_ns, changed_by)
            values ('fleet', 1, 'visit-recorded', 'T-104', 'WO-1', %s, 'ada'), ('fleet', 2, 'policy-changed', null, null, %s, 'bo')
            """;

    @TempDir
    Path folder;

    @Test
    void open_ofTheFirstVersion_onH2() throws SQLException {
        JdbcDataSource h2 = new JdbcDataSource();
        h2.setURL("jdbc:h2:" + folder.resolve("host"));
        h2.setUser("sa");

        opensTheFirstVersion(h2);
    }

    @Test
    void open_ofTheFirstVersion_onPostgres() throws SQLException {
        PGSimpleDataSource postgres = new PGSimpleDataSource();
        postgres.setUrl(PostgresServer.url("migration"));
        postgres.setUser(PostgresServer.USER);
        postgres.setPassword(PostgresServer.USER);

        opensTheFirstVersion(postgres);
    }

    private static void migrate(DataSource source, Engine engine, String target) {
        Flyway.configure().dataSource(source).locations("classpath:comebackledger/storage/migration").target(target).defaultSchema(engine.schema())
                .schemas(engine.schema()).placeholders(Map.of("identifier", engine.identifierType())).load().migrate();
    }

    /** Its derived rows have a form that is read no more. */
    @Test
    void open_ofTheSecondVersion_leavesItsDerivedRowsToBeMade() throws SQLException {
        JdbcDataSource source = new JdbcDataSource();
        source.setURL("jdbc:h2:" + folder.resolve("second"));
        source.setUser("sa");
        try (Connection connection = source.getConnection(); Statement statement = connection.createStatement()) {
            migrate(source, Engine.of(connection), "2");
            statement.execute(
                    "insert into comeback_ledger.unit_fold (fleet, unit, unit_version, policy_version, state) values ('fleet', 'T-104', 1, 0, X'02')");
            statement.execute(
                    "insert into comeback_ledger.unit_summary (fleet, unit, unit_version, policy_version, summary) values ('fleet', 'T-104', 1, 0, X'01')");
        }

        try (JdbcStore store = JdbcStore.over(source)) {
            assertEquals(Optional.of(Stored.UNDER_NO_POLICY),
                    store.<Optional<Integer>>read("fleet", tx -> tx.fold("T-104").map(Stored.Fold::policyVersion)));
            List<Integer> policies = new ArrayList<>();
            store.<Boolean>read("fleet", tx -> {
                tx.eachSummary(row -> policies.add(row.policyVersion()));
                return true;
            });
            assertEquals(List.of(Stored.UNDER_NO_POLICY), policies);
        }
    }

    private static void opensTheFirstVersion(DataSource source) throws SQLException {
        Engine engine;
        try (Connection connection = source.getConnection()) {
            engine = Engine.of(connection);
        }
        migrate(source, engine, "1");
        long noon = NOON.getEpochSecond() * 1_000_000_000;
        try (Connection connection = source.getConnection(); Statement statement = connection.createStatement()) {
            statement.execute("insert into comeback_ledger.unit_version (fleet, unit, version, document, recorded_at_ns, recorded_by)"
                    + " values ('fleet', 'T-104', 1, '{}', " + noon + ", 'ada')");
            statement.execute(VISIT.formatted(noon, noon));
            statement.execute(CHANGES.formatted(noon, noon + 7));
            statement.execute("insert into comeback_ledger.fleet_head (fleet, last_position) values ('fleet', 2)");
        }

        try (JdbcStore store = JdbcStore.over(source)) {
            assertEquals(List.of(new Stored.VisitRevision("T-104", "WO-1", 1, NOON, false, "{}", NOON, "ada")),
                    store.<List<Stored.VisitRevision>>read("fleet", tx -> tx.visits("T-104")));
            assertEquals(Optional.of(Stored.UNDER_NO_POLICY),
                    store.<Optional<Integer>>read("fleet", tx -> tx.fold("T-104").map(Stored.Fold::policyVersion)));
            List<String> units = new ArrayList<>();
            store.<Boolean>read("fleet", tx -> {
                tx.eachSummary(row -> units.add(row.unit() + row.policyVersion()));
                return true;
            });
            assertEquals(List.of("T-104-1"), units, "a row to be made");
            store.write("fleet", tx -> {
                tx.append(visit("T-104", "WO-2", 1, noon(1), noon(1)));
                tx.change(Stored.ChangeKind.VISIT_RECORDED, Optional.of("T-104"), Optional.of("WO-2"), noon(1), "ada");
                return true;
            });
            assertEquals(List.of(
                    new Stored.Change(1, Stored.ChangeKind.VISIT_RECORDED, Optional.of("T-104"), Optional.of("WO-1"), NOON, "ada"),
                    new Stored.Change(2, Stored.ChangeKind.POLICY_CHANGED, Optional.empty(), Optional.empty(), NOON.plusNanos(7), "bo"),
                    new Stored.Change(3, Stored.ChangeKind.VISIT_RECORDED, Optional.of("T-104"), Optional.of("WO-2"), noon(1), "ada")),
                    store.<List<Stored.Change>>read("fleet", tx -> tx.changes(0, 10)));
        }
        // H2 commits each statement of a migration: a process killed after the last one finds it unrecorded, and runs it again.
        try (Connection connection = source.getConnection(); Statement statement = connection.createStatement()) {
            assertEquals(2, statement.executeUpdate("delete from comeback_ledger.\"flyway_schema_history\" where \"version\" in ('2', '3')"));
        }
        try (JdbcStore store = JdbcStore.over(source)) {
            assertEquals(3, store.<Integer>read("fleet", tx -> tx.changes(0, 10).size()));
            assertEquals(2, store.<Integer>read("fleet", tx -> tx.visits("T-104").size()));
        }
    }
}
