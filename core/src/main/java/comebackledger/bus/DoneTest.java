package comebackledger.bus;

import comebackledger.measure.Reading;
import java.util.Optional;

/**
 * A further test that was made in the same check, with what it showed.
 *
 * @param at the module or terminator it was made at
 * @param part the part measured by itself
 * @param towardA the half of a split trunk on the side of terminator a
 * @param highLine the high line end to end
 * @param found whether the change, the joint or the drop that was looked for was found
 */
public record DoneTest(TestKind test, Optional<String> at, BusReadings readings, Optional<RollCall> rollCall, Optional<Reading> part,
        Optional<Reading> towardA, Optional<Reading> towardB, Optional<Reading> highLine, Optional<Reading> lowLine, Optional<Boolean> found) {}
