package comebackledger.storage;

import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import javax.sql.DataSource;

import comebackledger.Require;
import comebackledger.ledger.Store;
import comebackledger.ledger.StoreUnavailableException;
import comebackledger.ledger.Stored;
import comebackledger.ledger.Transaction;
import comebackledger.storage.JdbcTransaction.Access;
import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import com.zaxxer.hikari.pool.HikariPool;
import org.flywaydb.core.api.FlywayException;
import org.h2.jdbcx.JdbcDataSource;
import org.postgresql.ds.PGSimpleDataSource;

/**
 * The ledger's rows over JDBC: in a file of its own (embedded H2), in PostgreSQL, or in the schema {@code comeback_ledger} of a host's data source. Opening
 * one makes the tables or brings them to this version; it throws {@link StoreUnavailableException} if the engine cannot be reached or the tables cannot be
 * brought there, and {@link IllegalArgumentException} if it is neither H2 nor PostgreSQL from 15.
 */
public final class JdbcStore implements Store {
    private static final int CONNECTIONS = 10; // of each pool; enough for two cores, common practice, no source
    private static final int CONNECTION_TIMEOUT_MS = 5_000; // common practice, no source
    private static final int LOCK_TIMEOUT_MS = 10_000; // longer than one transaction of an import, common practice, no source
    private static final int H2_CACHE_KB = 65_536; // a quarter of the smallest heap we promise, 256 MiB
    private static final int H2_QUERIES_CACHED = 64; // more than the statements of this room

    private static final String FLEETS = """
            select fleet
            from comeback_ledger.fleet_head
            order by fleet
            """;

    private final Connections connections;
    private final Transactions transactions;
    /** Where nobody else can write. */
    private final Optional<SoleWriters> writers;
    private final Runnable whenClosed;

    private JdbcStore(Connections connections, Optional<SoleWriters> writers, Transactions.AfterCommit afterCommit, Runnable whenClosed) {
        this.connections = connections;
        this.writers = writers;
        this.transactions = new Transactions(connections, afterCommit);
        this.whenClosed = whenClosed;
    }

    /** A file in a folder, which is made if it is not there; one process at a time. An acknowledged write survives a kill of the process. */
    public static JdbcStore embedded(Path dataFolder) {
        return embedded(dataFolder, Durability.PROCESS_KILL);
    }

    /** @throws StoreUnavailableException if another process has the file open, or it cannot be written */
    public static JdbcStore embedded(Path dataFolder, Durability durability) {
        String file = dataFolder.toAbsolutePath().normalize().resolve("ledger").toString();
        Require.that(!file.contains(";"), "the data folder must have no ; in its path, was %s", dataFolder);
        // retry: an interrupted thread closes the channel of a plain H2 file and with it the database for everybody; this one opens it again.
        return pooled(h2("retry:" + file + ";DB_CLOSE_ON_EXIT=FALSE;WRITE_DELAY=0"), Optional.of(new SoleWriters(file)), switch (durability) {
            case PROCESS_KILL -> _ -> {};
            case POWER_CUT -> JdbcStore::forceToDisk;
        }, () -> {});
    }

    /** Whether a folder holds the rows of an embedded ledger; opening one that does not would begin a new ledger there. */
    public static boolean isEmbeddedIn(Path dataFolder) {
        return Files.exists(dataFolder.resolve("ledger.mv.db"));
    }

    /** Rows in memory only, gone when it closes; for tests and trials. */
    public static JdbcStore inMemory() {
        String name = "mem:" + UUID.randomUUID();
        DataSource h2 = h2(name + ";DB_CLOSE_DELAY=-1");
        return pooled(h2, Optional.of(new SoleWriters(name)), _ -> {}, () -> shutDown(h2));
    }

    /** @param url {@code jdbc:postgresql://host:port/database} */
    public static JdbcStore postgres(String url, String user, String password) {
        PGSimpleDataSource source = new PGSimpleDataSource();
        source.setUrl(url);
        source.setUser(user);
        source.setPassword(password);
        source.setReWriteBatchedInserts(true);
        source.setOptions("-c lock_timeout=" + LOCK_TIMEOUT_MS);
        return pooled(source, Optional.empty(), _ -> {}, () -> {});
    }

    /**
     * The host's own data source: only the schema {@code comeback_ledger} is touched, its user must be allowed to create it, and closing leaves the source open.
     * Other processes may write to it at once.
     */
    public static JdbcStore over(DataSource dataSource) {
        migrate(dataSource);
        return new JdbcStore(new Connections.OfHost(dataSource), Optional.empty(), _ -> {}, () -> {});
    }

    @Override
    public <T> T write(String fleet, Work<T> work) {
        return writers.isPresent()
                ? writers.get().write(() -> transactions.run(fleet, Access.WRITE, work))
                : transactions.run(fleet, Access.WRITE, work);
    }

    @Override
    public <T> T read(String fleet, Work<T> work) {
        return transactions.run(fleet, Access.READ, work);
    }

    @Override
    public Stored.Mark mark(String fleet) {
        return writers.isPresent() ? writers.get().mark(fleet, () -> read(fleet, Transaction::mark)) : read(fleet, Transaction::mark);
    }

    @Override
    public List<String> fleets() {
        try {
            Connection connection = connections.lend(Access.READ);
            try (Statement statement = connection.createStatement(); ResultSet rows = statement.executeQuery(FLEETS)) {
                List<String> fleets = new ArrayList<>();
                while (rows.next()) {
                    fleets.add(rows.getString(1));
                }
                return fleets;
            } finally {
                connection.rollback();
                connections.takeBack(connection);
            }
        } catch (SQLException e) {
            throw new StoreUnavailableException("The store cannot be reached. Try again later.", e);
        }
    }

    @Override
    public void close() {
        whenClosed.run();
    }

    private static DataSource h2(String place) {
        JdbcDataSource source = new JdbcDataSource();
        source.setURL(
                "jdbc:h2:" + place + ";LOCK_TIMEOUT=" + LOCK_TIMEOUT_MS + ";CACHE_SIZE=" + H2_CACHE_KB + ";QUERY_CACHE_SIZE=" + H2_QUERIES_CACHED
                        + ";TRACE_LEVEL_FILE=0");
        source.setUser("sa");
        source.setPassword("");
        return source;
    }

    private static JdbcStore pooled(DataSource source, Optional<SoleWriters> writers, Transactions.AfterCommit afterCommit, Runnable whenClosed) {
        HikariDataSource writing = pool(source, Access.WRITE);
        try {
            migrate(writing);
            HikariDataSource reading = pool(source, Access.READ);
            return new JdbcStore(new Connections.Pooled(reading, writing), writers, afterCommit, () -> {
                reading.close();
                writing.close();
                whenClosed.run();
            });
        } catch (RuntimeException e) {
            writing.close();
            throw e;
        }
    }

    private static HikariDataSource pool(DataSource source, Access access) {
        HikariConfig config = new HikariConfig();
        config.setDataSource(source);
        config.setMaximumPoolSize(CONNECTIONS);
        config.setMinimumIdle(1);
        config.setConnectionTimeout(CONNECTION_TIMEOUT_MS);
        config.setAutoCommit(false);
        config.setReadOnly(access == Access.READ);
        config.setTransactionIsolation(switch (access) {
            case READ -> "TRANSACTION_REPEATABLE_READ";
            case WRITE -> "TRANSACTION_READ_COMMITTED";
        });
        config.setPoolName(switch (access) {
            case READ -> "ledger-read";
            case WRITE -> "ledger-write";
        });
        try {
            return new HikariDataSource(config);
        } catch (HikariPool.PoolInitializationException e) {
            throw new StoreUnavailableException("The store cannot be opened. Check that no other process has it open and that it can be reached.", e);
        }
    }

    private static void migrate(DataSource source) {
        try {
            Schema.migrate(source);
        } catch (SQLException | FlywayException e) {
            throw new StoreUnavailableException("The ledger's tables cannot be brought to this version.", e);
        }
    }

    private static void forceToDisk(Connection connection) throws SQLException {
        try (Statement statement = connection.createStatement()) {
            statement.execute("checkpoint sync");
        }
        connection.commit();
    }

    private static void shutDown(DataSource h2) {
        try (Connection connection = h2.getConnection(); Statement statement = connection.createStatement()) {
            statement.execute("shutdown");
        } catch (SQLException e) {
            throw new StoreUnavailableException("The store in memory did not close.", e);
        }
    }
}
