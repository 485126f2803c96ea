package comebackledger.storage;

import javax.sql.DataSource;

import org.h2.jdbcx.JdbcDataSource;

/** The faults on H2. */
class H2FaultTest extends FaultContract {
    @Override
    DataSource dataSource() {
        JdbcDataSource source = new JdbcDataSource();
        source.setURL("jdbc:h2:mem:faults;DB_CLOSE_DELAY=-1");
        return source;
    }
}
