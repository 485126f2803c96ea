package comebackledger.unit;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * A terminating resistor.
 *
 * @param name {@code terminator-a} or {@code terminator-b}, or the build's own
 * @param inside the module that carries it
 * @param split two halves with a capacitor from the middle to ground
 */
public record Terminator(String name, OptionalDouble atMetres, double ohm, Optional<String> inside, boolean split) {}
