package comebackledger.storage;

import java.sql.SQLException;
import java.sql.SQLNonTransientConnectionException;
import java.sql.SQLRecoverableException;
import java.sql.SQLTransientConnectionException;
import java.util.Set;

/** What a failed statement means for its transaction. */
enum Failure {
    /** Another writer got in between: run the work again. */
    CONFLICT,
    /** The engine is away, full or shutting down. */
    UNREACHABLE,
    /** The statement itself was refused: a fault of this room. */
    REFUSED;

    /** Lock wait over: H2's and PostgreSQL's; the same row written twice at once: both. */
    private static final Set<String> CONFLICT_STATES = Set.of("HYT00", "55P03", "23505");
    /** H2: in use by another process, closed, closed by shutdown, IO error, IO error with a file, connection broken. Its states equal its codes. */
    private static final Set<String> H2_AWAY = Set.of("90020", "90098", "90121", "90028", "90031", "90067");

    static Failure of(SQLException failure) {
        for (Throwable cause = failure; cause != null; cause = cause.getCause()) {
            if (cause instanceof SQLException sql) {
                Failure found = byState(sql);
                if (found != REFUSED) {
                    return found;
                }
            }
        }
        return REFUSED;
    }

    private static Failure byState(SQLException failure) {
        String state = failure.getSQLState() == null ? "" : failure.getSQLState();
        if (CONFLICT_STATES.contains(state) || state.startsWith("40")) {
            return CONFLICT;
        }
        // Classes 08 connection, 53 resources, 57 operator intervention, 58 system error: SQL:2016 and PostgreSQL appendix A.
        boolean away = H2_AWAY.contains(state) || state.startsWith("08") || state.startsWith("53") || state.startsWith("57")
                || state.startsWith("58");
        boolean noConnection = failure instanceof SQLTransientConnectionException || failure instanceof SQLNonTransientConnectionException
                || failure instanceof SQLRecoverableException;
        return away || noConnection ? UNREACHABLE : REFUSED;
    }
}
