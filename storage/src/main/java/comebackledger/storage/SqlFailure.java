package comebackledger.storage;

import java.sql.SQLException;

/** Carries a failed statement out of the work of a transaction, whose lambda declares no checked exception. */
final class SqlFailure extends RuntimeException {
    private static final long serialVersionUID = 1L;

    SqlFailure(SQLException sql) {
        super(sql);
    }
}
