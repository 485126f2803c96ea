package comebackledger.visit;

import comebackledger.measure.Reading;
import java.util.Optional;

/**
 * A further test of the closed list that was made in the same check, with what it showed.
 *
 * @param test a word of the closed list of tests
 * @param place the part it was made at
 * @param part the part measured by itself
 * @param towardA the half of a split trunk toward terminator a
 * @param highLine the high line end to end
 * @param found whether a looked-for change or joint was found
 */
public record DoneTest(String test, Optional<String> place, BusReadings readings, Optional<RollCall> rollCall, Optional<Reading> part,
        Optional<Reading> towardA, Optional<Reading> towardB, Optional<Reading> highLine, Optional<Reading> lowLine, Optional<Boolean> found) {}
