package comebackledger;

import java.util.Locale;

/** States what must hold. A condition that is false for NaN refuses NaN by itself. */
public final class Require {
    private Require() {}

    /**
     * @param message a {@link String#format} pattern that names the argument, its range and the value
     * @throws IllegalArgumentException if it does not hold
     */
    public static void that(boolean holds, String message, Object... values) {
        if (!holds) {
            throw new IllegalArgumentException(String.format(Locale.ROOT, message, values));
        }
    }
}
