package comebackledger.code;

import comebackledger.Require;
import java.util.EnumSet;
import java.util.Optional;
import java.util.Set;

/**
 * The two lamp bytes at the start of a DM1 or DM2 (SAE J1939-73, layout from memory): two bits a lamp.
 *
 * @param status 00 off, 01 on, 10 reserved, 11 not available
 * @param flash 00 slow, 01 fast, 10 reserved, 11 steady; it counts only for a lamp that is on
 */
public record DmLamps(int status, int flash) {
    /** What a lamp shows. */
    public enum State {
        OFF("off"), ON("on"), RESERVED("reserved"), NOT_AVAILABLE("not-available");

        private final String word;

        State(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    /** How a lamp that is on shows it. */
    public enum Flash {
        SLOW("slow"), FAST("fast"), RESERVED("reserved"), STEADY("steady");

        private final String word;

        Flash(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    public DmLamps {
        Require.that(status >= 0 && status <= 0xFF && flash >= 0 && flash <= 0xFF, "status and flash must be one byte each");
    }

    public State state(Lamp lamp) {
        return State.values()[lamp.bitsOf(status)];
    }

    public Optional<Flash> flash(Lamp lamp) {
        return state(lamp) == State.ON ? Optional.of(Flash.values()[lamp.bitsOf(flash)]) : Optional.empty();
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
