package comebackledger.storage;

import javax.sql.DataSource;

/** The faults on PostgreSQL. */
class PostgresFaultTest extends FaultContract {
    private static final DataSource SOURCE = PostgresServer.dataSource("faults");

    @Override
    DataSource dataSource() {
        return SOURCE;
    }
}
