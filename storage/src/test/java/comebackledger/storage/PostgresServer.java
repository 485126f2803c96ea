package comebackledger.storage;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import javax.sql.DataSource;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;

/** One real server for the test run, a database for each test class; it ends with the process. If it does not start, the build fails. */
final class PostgresServer {
    static final String USER = "postgres";

    private static final EmbeddedPostgres SERVER = start();

    private PostgresServer() {}

    private static EmbeddedPostgres start() {
        try {
            return EmbeddedPostgres.builder().start();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    static String url(String database) {
        create(database);
        return SERVER.getJdbcUrl(USER, database);
    }

    static DataSource dataSource(String database) {
        create(database);
        return SERVER.getDatabase(USER, database);
    }

    /** Sorting as in English by default (a before B), so that a column without its own collation shows. The names are those of the tests. */
    private static void create(String database) {
        try (Connection connection = SERVER.getPostgresDatabase().getConnection(); Statement statement = connection.createStatement()) {
            statement.execute("create database " + database + " template template0 locale_provider icu icu_locale 'en' encoding 'UTF8'");
        } catch (SQLException e) {
            throw new IllegalStateException(e);
        }
    }
}
