package comebackledger.storage;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Savepoint;
import java.sql.Types;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/** The statements of one connection while one transaction of one fleet runs; each is prepared once. Remembers a failure, so that no work can swallow it. */
final class Session {
    /** A row read from the columns of a query, by position. */
    interface Row<T> {
        T of(ResultSet columns) throws SQLException;
    }

    private static final String UNIQUE_VIOLATION = "23505"; // SQL:2016, class 23, as both engines number it

    private final Connection connection;
    private final String fleet;
    private final Map<String, PreparedStatement> prepared = new LinkedHashMap<>();
    private Optional<SQLException> failure = Optional.empty();

    Session(Connection connection, String fleet) {
        this.connection = connection;
        this.fleet = fleet;
    }

    String fleet() {
        return fleet;
    }

    /** The first statement that failed, even if the work went on after it. */
    Optional<SQLException> failure() {
        return failure;
    }

    /** @param values after the fleet, which is the first parameter of every statement */
    <T> List<T> list(String sql, Row<T> row, Object... values) {
        try {
            PreparedStatement statement = bound(sql, values);
            try (ResultSet columns = statement.executeQuery()) {
                List<T> rows = new ArrayList<>();
                while (columns.next()) {
                    rows.add(row.of(columns));
                }
                return rows;
            }
        } catch (SQLException e) {
            throw failed(e);
        }
    }

    <T> Optional<T> first(String sql, Row<T> row, Object... values) {
        List<T> rows = list(sql, row, values);
        return rows.isEmpty() ? Optional.empty() : Optional.of(rows.getFirst());
    }

    void run(String sql, Object... values) {
        try {
            bound(sql, values).executeUpdate();
        } catch (SQLException e) {
            throw failed(e);
        }
    }

    void batch(String sql, Stream<Object[]> rows) {
        try {
            send(sql, rows);
        } catch (SQLException e) {
            throw failed(e);
        }
    }

    private void send(String sql, Stream<Object[]> rows) throws SQLException {
        PreparedStatement statement = statement(sql);
        for (Object[] values : (Iterable<Object[]>) rows::iterator) {
            bind(statement, values);
            statement.addBatch();
        }
        statement.executeBatch();
    }

    /**
     * Inserts rows that another writer may be inserting too, undoing the insert alone if it was first: a conflict that needs no second run of the work.
     *
     * @return whether they are ours; if not, at least one of them is there now and committed
     */
    boolean insertUnlessTaken(String sql, Stream<Object[]> rows) {
        try {
            Savepoint before = connection.setSavepoint();
            try {
                send(sql, rows);
                connection.releaseSavepoint(before);
                return true;
            } catch (SQLException e) {
                if (!UNIQUE_VIOLATION.equals(e.getSQLState())) {
                    throw e;
                }
                connection.rollback(before);
                return false;
            }
        } catch (SQLException e) {
            throw failed(e);
        }
    }

    private SqlFailure failed(SQLException e) {
        failure = failure.or(() -> Optional.of(e));
        return new SqlFailure(failure.orElse(e));
    }

    private PreparedStatement bound(String sql, Object... values) throws SQLException {
        PreparedStatement statement = statement(sql);
        bind(statement, values);
        return statement;
    }

    private PreparedStatement statement(String sql) throws SQLException {
        PreparedStatement known = prepared.get(sql);
        if (known == null) {
            known = connection.prepareStatement(sql);
            prepared.put(sql, known);
        }
        return known;
    }

    private void bind(PreparedStatement statement, Object... values) throws SQLException {
        statement.setString(1, fleet);
        for (int i = 0; i < values.length; i++) {
            bind(statement, i + 2, values[i]);
        }
    }

    private static void bind(PreparedStatement statement, int place, Object value) throws SQLException {
        switch (value) {
            case Optional<?> optional when optional.isEmpty() -> statement.setNull(place, Types.NULL);
            case Optional<?> optional -> bind(statement, place, optional.get());
            case Instant instant -> statement.setLong(place, Nanoseconds.of(instant));
            case byte[] bytes -> statement.setBytes(place, bytes);
            case String text -> statement.setString(place, text);
            case Integer number -> statement.setInt(place, number);
            case Long number -> statement.setLong(place, number);
            case Boolean truth -> statement.setBoolean(place, truth);
            default ->
                throw new IllegalArgumentException("a column value must be a text, number, truth, bytes or instant, was " + value.getClass());
        }
    }

    static Instant instant(ResultSet columns, int place) throws SQLException {
        return Nanoseconds.instant(columns.getLong(place));
    }

    static Optional<Instant> optionalInstant(ResultSet columns, int place) throws SQLException {
        long nanoseconds = columns.getLong(place);
        return columns.wasNull() ? Optional.empty() : Optional.of(Nanoseconds.instant(nanoseconds));
    }
}
