package comebackledger.storage;

import java.sql.Connection;
import java.sql.DatabaseMetaData;
import java.sql.SQLException;

/** The engines the SQL of this room runs on, and the little in which they differ. */
enum Engine {
    H2("COMEBACK_LEDGER", "varchar"), POSTGRESQL("comeback_ledger", "varchar collate \"C\"");

    private static final int FIRST_POSTGRESQL_WITH_MERGE = 15; // PostgreSQL 15 release notes, E.1: MERGE

    /** The schema as the engine stores an unquoted name. */
    private final String schema;
    private final String identifierType;

    Engine(String schema, String identifierType) {
        this.schema = schema;
        this.identifierType = identifierType;
    }

    String schema() {
        return schema;
    }

    /** The column type whose order is the order of code points. */
    String identifierType() {
        return identifierType;
    }

    /** @throws IllegalArgumentException if the engine is another or too old */
    static Engine of(Connection connection) throws SQLException {
        DatabaseMetaData data = connection.getMetaData();
        String product = data.getDatabaseProductName();
        if (product.equals("H2")) {
            return H2;
        }
        if (product.equals("PostgreSQL") && data.getDatabaseMajorVersion() >= FIRST_POSTGRESQL_WITH_MERGE) {
            return POSTGRESQL;
        }
        throw new IllegalArgumentException(
                "The ledger keeps its rows in H2 2 or in PostgreSQL from version 15; this data source is " + product + " "
                        + data.getDatabaseMajorVersion()
                        + ". Give it a data source of one of these.");
    }
}
