package comebackledger.unit;

import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * One module on a network.
 *
 * @param address its SAE J1939 source address
 * @param differentialOhm between its two pins
 * @param lineToGroundOhm of each pin
 * @param biasVolt what it holds the idle lines at, behind {@code biasOhm}, with the power on
 * @param safety its silence holds the unit
 */
public record Node(String module, OptionalInt address, OptionalDouble atMetres, OptionalDouble stubMetres, OptionalDouble differentialOhm,
        OptionalDouble lineToGroundOhm, OptionalDouble biasVolt, OptionalDouble biasOhm, boolean safety) {}
