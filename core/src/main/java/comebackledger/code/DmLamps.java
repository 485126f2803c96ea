package comebackledger.code;

import comebackledger.Require;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;

/**
 * The lamps at the start of a DM1 or DM2 (SAE J1939-73, layout from memory): two bits a lamp. The second byte, how a lamp flashes, is not kept.
 *
 * @param status 00 off, 01 on, 10 reserved, 11 not available
 */
public record DmLamps(int status) {
    /** What a lamp shows. */
    public enum State {
        OFF, ON, RESERVED, NOT_AVAILABLE
    }

    public DmLamps {
        Require.that(status >= 0 && status <= 0xFF, "status must be one byte");
    }

    public State state(Lamp lamp) {
        return State.values()[lamp.bitsOf(status)];
    }

    /** Empty where the sender does not say. */
    public Optional<Boolean> isOn(Lamp lamp) {
        return switch (state(lamp)) {
            case ON -> Optional.of(true);
            case OFF -> Optional.of(false);
            case RESERVED, NOT_AVAILABLE -> Optional.empty();
        };
    }

    public Set<Lamp> on() {
        Set<Lamp> on = EnumSet.noneOf(Lamp.class);
        for (Lamp lamp : Lamp.values()) {
            if (state(lamp) == State.ON) {
                on.add(lamp);
            }
        }
        return on;
    }
}
