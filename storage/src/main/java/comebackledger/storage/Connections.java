package comebackledger.storage;

import java.sql.Connection;
import java.sql.SQLException;
import javax.sql.DataSource;

import comebackledger.storage.JdbcTransaction.Access;

/** Lends connections that are ready for a transaction: no auto-commit, snapshot for a read, committed rows for a write. */
interface Connections {
    /** A connection for one transaction; closing it gives it back. */
    Connection lend(Access access) throws SQLException;

    /** Takes a lent connection back, after its commit or rollback. */
    void takeBack(Connection connection) throws SQLException;

    /** Pools of our own, whose connections were made ready once. Two, so that long reads leave writers their connections. */
    record Pooled(DataSource reading, DataSource writing) implements Connections {
        @Override
        public Connection lend(Access access) throws SQLException {
            return switch (access) {
                case READ -> reading.getConnection();
                case WRITE -> writing.getConnection();
            };
        }

        @Override
        public void takeBack(Connection connection) throws SQLException {
            connection.close();
        }
    }

    /** A host's data source: a connection is made ready for each transaction and goes back as the host's pools expect it, committing by itself. */
    record OfHost(DataSource dataSource) implements Connections {
        @Override
        public Connection lend(Access access) throws SQLException {
            Connection connection = dataSource.getConnection();
            try {
                connection.setAutoCommit(false);
                connection.setTransactionIsolation(switch (access) {
                    case READ -> Connection.TRANSACTION_REPEATABLE_READ;
                    case WRITE -> Connection.TRANSACTION_READ_COMMITTED;
                });
                connection.setReadOnly(access == Access.READ);
                return connection;
            } catch (SQLException e) {
                connection.close();
                throw e;
            }
        }

        @Override
        public void takeBack(Connection connection) throws SQLException {
            try (connection) {
                connection.setReadOnly(false);
                connection.setTransactionIsolation(Connection.TRANSACTION_READ_COMMITTED);
                connection.setAutoCommit(true);
            }
        }
    }
}
