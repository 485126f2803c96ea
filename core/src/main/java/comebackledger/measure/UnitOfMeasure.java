package comebackledger.measure;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * The units of measure that evidence may come in, with the exact factor to SI (ohm, V, Pa, m3/s, kg/s, K, m, m2, m3, s) and the UCUM code.
 * Distances of road convert to km, the unit every window and rate is stated in, and times to s.
 *
 * <p>Source: NIST SP 811 (2008), appendix B.8; inch of water at 4 degC and inch of mercury at 0 degC, conventional values.
 */
public enum UnitOfMeasure {
    OHM("ohm", "Ohm", Kind.RESISTANCE, 1), KOHM("kohm", "kOhm", Kind.RESISTANCE, 1e3), MEGOHM("Mohm", "MOhm", Kind.RESISTANCE, 1e6),
    VOLT("V", "V", Kind.VOLTAGE, 1), MILLIVOLT("mV", "mV", Kind.VOLTAGE, 1e-3),
    PASCAL("Pa", "Pa", Kind.PRESSURE, 1), KILOPASCAL("kPa", "kPa", Kind.PRESSURE, 1e3), BAR("bar", "bar", Kind.PRESSURE, 1e5),
    MILLIBAR("mbar", "mbar", Kind.PRESSURE, 100), PSI("psi", "[psi]", Kind.PRESSURE, 6894.757293168361),
    INCH_OF_MERCURY("inHg", "[in_i'Hg]", Kind.PRESSURE, 3386.389), INCH_OF_WATER("inH2O", "[in_i'H2O]", Kind.PRESSURE, 249.08891),
    LITRE_PER_MINUTE("L/min", "L/min", Kind.VOLUME_FLOW, 1e-3 / 60), MILLILITRE_PER_MINUTE("mL/min", "mL/min", Kind.VOLUME_FLOW, 1e-6 / 60),
    CUBIC_METRE_PER_HOUR("m3/h", "m3/h", Kind.VOLUME_FLOW, 1.0 / 3600),
    CUBIC_FOOT_PER_MINUTE("ft3/min", "[cft_i]/min", Kind.VOLUME_FLOW, 0.028316846592 / 60),
    CUBIC_FOOT_PER_HOUR("ft3/h", "[cft_i]/h", Kind.VOLUME_FLOW, 0.028316846592 / 3600),
    GRAM_PER_SECOND("g/s", "g/s", Kind.MASS_FLOW, 1e-3), KILOGRAM_PER_HOUR("kg/h", "kg/h", Kind.MASS_FLOW, 1.0 / 3600),
    POUND_PER_MINUTE("lb/min", "[lb_av]/min", Kind.MASS_FLOW, 0.45359237 / 60),
    CELSIUS("degC", "Cel", Kind.TEMPERATURE, 1, 273.15), FAHRENHEIT("degF", "[degF]", Kind.TEMPERATURE, 5.0 / 9, 273.15 - 32 * 5.0 / 9),
    KELVIN("K", "K", Kind.TEMPERATURE, 1),
    MILLIMETRE("mm", "mm", Kind.LENGTH, 1e-3), INCH("in", "[in_i]", Kind.LENGTH, 0.0254), METRE("m", "m", Kind.LENGTH, 1),
    FOOT("ft", "[ft_i]", Kind.LENGTH, 0.3048), SQUARE_MILLIMETRE("mm2", "mm2", Kind.AREA, 1e-6), LITRE("L", "L", Kind.VOLUME, 1e-3),
    CUBIC_METRE("m3", "m3", Kind.VOLUME, 1), CUBIC_FOOT("ft3", "[cft_i]", Kind.VOLUME, 0.028316846592),
    KILOMETRE("km", "km", Kind.DISTANCE, 1), MILE("mi", "[mi_i]", Kind.DISTANCE, 1.609344), SECOND("s", "s", Kind.TIME, 1),
    MINUTE("min", "min", Kind.TIME, 60), HOUR("h", "h", Kind.TIME, 3600);

    private static final Map<String, UnitOfMeasure> BY_SYMBOL = Arrays.stream(values())
            .collect(Collectors.toMap(UnitOfMeasure::symbol, unit -> unit));

    private final String symbol;
    private final String ucum;
    private final Kind kind;
    private final double factor;
    private final double offset;

    UnitOfMeasure(String symbol, String ucum, Kind kind, double factor) {
        this(symbol, ucum, kind, factor, 0);
    }

    UnitOfMeasure(String symbol, String ucum, Kind kind, double factor, double offset) {
        this.symbol = symbol;
        this.ucum = ucum;
        this.kind = kind;
        this.factor = factor;
        this.offset = offset;
    }

    /** As written on the wire. */
    public String symbol() {
        return symbol;
    }

    /** The code of the Unified Code for Units of Measure. */
    public String ucum() {
        return ucum;
    }

    public Kind kind() {
        return kind;
    }

    /** A value in this unit, in SI (km for distances). */
    public double toSi(double value) {
        return value * factor + offset;
    }

    /** A difference or an uncertainty in this unit, in SI: no offset. */
    public double differenceToSi(double difference) {
        return difference * factor;
    }

    /** An SI value (km for distances) in this unit. */
    public double fromSi(double si) {
        return (si - offset) / factor;
    }

    public static Optional<UnitOfMeasure> ofSymbol(String symbol) {
        return Optional.ofNullable(BY_SYMBOL.get(symbol));
    }

    /** The symbols of one kind, in the order of the contract. */
    public static List<String> symbolsOf(Kind kind) {
        return Arrays.stream(values()).filter(unit -> unit.kind == kind).map(UnitOfMeasure::symbol).toList();
    }
}
