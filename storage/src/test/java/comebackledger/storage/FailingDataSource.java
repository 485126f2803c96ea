package comebackledger.storage;

import java.lang.reflect.InvocationHandler;
import java.lang.reflect.InvocationTargetException;
import java.lang.reflect.Proxy;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.Set;
import javax.sql.DataSource;

/** A real data source whose n-th statement or commit from now fails before it reaches the engine, once or from then on. */
final class FailingDataSource {
    private static final Set<String> COUNTED = Set.of("executeQuery", "executeUpdate", "executeBatch", "commit");

    private final DataSource real;
    private String state = "";
    private int left = -1;
    private boolean always;
    private int failures;

    FailingDataSource(DataSource real) {
        this.real = real;
    }

    void failOnce(int statement, String sqlState) {
        left = statement;
        state = sqlState;
        always = false;
        failures = 0;
    }

    void failFrom(int statement, String sqlState) {
        failOnce(statement, sqlState);
        always = true;
    }

    void heal() {
        left = -1;
    }

    int failures() {
        return failures;
    }

    DataSource dataSource() {
        return wrap(DataSource.class, real);
    }

    private <T> T wrap(Class<T> type, T target) {
        InvocationHandler handler = (_, method, arguments) -> {
            if (COUNTED.contains(method.getName())) {
                count();
            }
            try {
                Object answer = method.invoke(target, arguments);
                return switch (answer) {
                    case Connection connection -> wrap(Connection.class, connection);
                    case PreparedStatement statement -> wrap(PreparedStatement.class, statement);
                    case null, default -> answer;
                };
            } catch (InvocationTargetException e) {
                throw e.getCause();
            }
        };
        return type.cast(Proxy.newProxyInstance(type.getClassLoader(), new Class<?>[]{type}, handler));
    }

    private void count() throws SQLException {
        if (left > 0 && --left == 0) {
            left = always ? 1 : -1;
            failures++;
            throw new SQLException("put in by the test", state);
        }
    }
}
