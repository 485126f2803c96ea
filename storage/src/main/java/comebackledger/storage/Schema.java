package comebackledger.storage;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.Map;
import javax.sql.DataSource;

import org.flywaydb.core.Flyway;

/** The ledger's own schema, {@code comeback_ledger}, brought to the version of this code. A host's other schemas are not touched. */
final class Schema {
    private Schema() {}

    static void migrate(DataSource dataSource) throws SQLException {
        Engine engine;
        try (Connection connection = dataSource.getConnection()) {
            engine = Engine.of(connection);
        }
        Flyway flyway = Flyway.configure(Schema.class.getClassLoader())
                .dataSource(dataSource)
                .locations("classpath:comebackledger/storage/migration")
                .defaultSchema(engine.schema())
                .schemas(engine.schema())
                .placeholders(Map.of("identifier", engine.identifierType()))
                .load();
        // H2 commits each statement of a migration by itself. A process killed in the middle leaves a part of it and a failed row: the statements may run
        // again (they create what is not there), and the failed row is taken away first.
        flyway.repair();
        flyway.migrate();
    }
}
