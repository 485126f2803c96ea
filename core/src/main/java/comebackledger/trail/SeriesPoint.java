package comebackledger.trail;

import comebackledger.visit.Stage;
import java.time.Instant;
import java.util.OptionalDouble;

/**
 * One comparable reading.
 *
 * @param series such as {@code network.j1939-1.highLowOhm} or {@code charge-air.orificeMm}
 * @param standardUncertainty where it is known
 * @param low the limit of its check, where there is one
 * @param afterRepairs how many repairs of its system were done before it: readings with different numbers are not one drift
 */
public record SeriesPoint(String series, Instant at, String visit, Stage stage, double value, OptionalDouble standardUncertainty, OptionalDouble low,
        OptionalDouble high, int afterRepairs) {}
