package comebackledger.measure;

import java.time.Instant;
import java.util.OptionalDouble;

/**
 * What one meter (odometer or hour meter) showed at one visit.
 *
 * @param shown km or h
 * @param replaced the meter starts again here
 * @param previous what the old meter showed last, if noted
 */
public record MeterReading(String visit, Instant at, OptionalDouble shown, boolean replaced, OptionalDouble previous) {}
