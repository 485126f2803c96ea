package comebackledger.bus;

import java.util.OptionalDouble;

/**
 * What a meter reads; a resistance without end is open (no path below 50 Mohm).
 *
 * @param highVolt empty where nothing drives the line, or nobody asked
 */
public record Predicted(double highLowOhm, double highGroundOhm, double lowGroundOhm, double highSupplyOhm, double lowSupplyOhm,
        OptionalDouble highVolt, OptionalDouble lowVolt) {
    static Predicted of(Mesh seen, double leadOhm) {
        return new Predicted(seen.highLowOhm() + leadOhm, seen.highGroundOhm() + leadOhm, seen.lowGroundOhm() + leadOhm,
                seen.highSupplyOhm() + leadOhm, seen.lowSupplyOhm() + leadOhm, OptionalDouble.empty(), OptionalDouble.empty());
    }

    Predicted withVoltagesOf(Mesh powered) {
        return new Predicted(highLowOhm, highGroundOhm, lowGroundOhm, highSupplyOhm, lowSupplyOhm, BusModel.told(powered.highVolt()),
                BusModel.told(powered.lowVolt()));
    }

    /** Whether a resistance is beyond what a meter shows. */
    public static boolean isOpen(double ohm) {
        return ohm > Mesh.OPEN_ABOVE_OHM;
    }
}
