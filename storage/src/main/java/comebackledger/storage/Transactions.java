package comebackledger.storage;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.Optional;
import java.util.concurrent.ThreadLocalRandom;

import comebackledger.ledger.Store;
import comebackledger.ledger.StoreUnavailableException;
import comebackledger.storage.JdbcTransaction.Access;

/** Runs the work of a transaction whole, and again after a conflict. */
final class Transactions {
    private static final int MOST_ATTEMPTS = 3;
    private static final int LONGEST_PAUSE_MS = 40; // common practice, no source: several commits long, unseen by a caller

    private static final String AWAY = "The store cannot be reached. Try again later.";

    /** What must happen between the commit and the answer. */
    interface AfterCommit {
        void on(Connection connection) throws SQLException;
    }

    private final Connections connections;
    private final AfterCommit afterCommit;

    Transactions(Connections connections, AfterCommit afterCommit) {
        this.connections = connections;
        this.afterCommit = afterCommit;
    }

    <T> T run(String fleet, Access access, Store.Work<T> work) {
        for (int attempt = 1;; attempt++) {
            try {
                return once(fleet, access, work);
            } catch (SQLException e) {
                switch (Failure.of(e)) {
                    case UNREACHABLE -> throw new StoreUnavailableException(AWAY, e);
                    case REFUSED -> throw new IllegalStateException("The store refused a statement, SQLSTATE " + e.getSQLState(), e);
                    case CONFLICT -> {
                        if (attempt == MOST_ATTEMPTS) {
                            throw new StoreUnavailableException("Other writers got in between " + MOST_ATTEMPTS + " times. Try again later.", e);
                        }
                        pause(attempt, e);
                    }
                }
            }
        }
    }

    private <T> T once(String fleet, Access access, Store.Work<T> work) throws SQLException {
        Connection connection = lend(access);
        boolean committed = false;
        try {
            T result = commit(connection, new Session(connection, fleet), access, work);
            committed = true;
            if (access == Access.WRITE) {
                afterCommit.on(connection);
            }
            return result;
        } finally {
            giveBack(connection, committed);
        }
    }

    /** Without a connection the engine is away, whatever the state says: refused, too many, pool closed, wait interrupted. */
    private Connection lend(Access access) {
        try {
            return connections.lend(access);
        } catch (SQLException e) {
            throw new StoreUnavailableException(AWAY, e);
        }
    }

    private static <T> T commit(Connection connection, Session session, Access access, Store.Work<T> work) throws SQLException {
        T result;
        try {
            JdbcTransaction transaction = new JdbcTransaction(session, access);
            result = work.in(transaction);
            transaction.end();
        } catch (RuntimeException e) {
            Optional<SQLException> cause = session.failure();
            if (cause.isPresent()) {
                throw cause.get();
            }
            throw e;
        }
        Optional<SQLException> swallowed = session.failure();
        if (swallowed.isPresent()) {
            throw swallowed.get();
        }
        connection.commit();
        return result;
    }

    /** A connection that cannot be rolled back or closed is broken: its rows are gone with it, and what went before is what the caller hears. */
    private void giveBack(Connection connection, boolean committed) {
        try {
            if (!committed) {
                connection.rollback();
            }
        } catch (SQLException _) {
            // the pool drops it
        }
        try {
            connections.takeBack(connection);
        } catch (SQLException _) {
            // the pool drops it
        }
    }

    private static void pause(int attempt, SQLException conflict) {
        try {
            Thread.sleep(ThreadLocalRandom.current().nextInt(1, LONGEST_PAUSE_MS * attempt));
        } catch (InterruptedException _) {
            Thread.currentThread().interrupt();
            throw new StoreUnavailableException("Stopped while waiting for another writer.", conflict);
        }
    }
}
