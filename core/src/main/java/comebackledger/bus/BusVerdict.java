package comebackledger.bus;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;

/**
 * One check judged.
 *
 * @param terminatorsSeen empty where no whole number of terminators gives the reading
 * @param suspects by probability, falling; they add up to 1, with {@code other} last
 * @param nextTests by information per minute, falling
 */
public record BusVerdict(Verdict verdict, OptionalInt terminatorsSeen, Expected expectedHighLowOhm, Optional<Equivalents> equivalents,
        List<Suspect> suspects, List<NextTest> nextTests, List<String> cautions) {
    public BusVerdict {
        suspects = List.copyOf(suspects);
        nextTests = List.copyOf(nextTests);
        cautions = List.copyOf(cautions);
    }

    /** Of the readings alone. */
    public enum Verdict {
        WITHIN("within"), OUTSIDE("outside"), INVALID("invalid");

        private final String word;

        Verdict(String word) {
            this.word = word;
        }

        /** As written on the wire. */
        public String word() {
            return word;
        }
    }

    /** What healthy parts give between the lines, ohm; @param source of the limits */
    public record Expected(double low, double nominal, double high, String source) {}

    /** The one resistance that explains a reading beside two healthy terminators. */
    public record Equivalents(OptionalDouble shuntOhm, OptionalDouble seriesInTrunkOhm, OptionalDouble seriesAtConnectorOhm) {}

    /** @param part the place's last part; @param also the second fault of a pair */
    public record Suspect(FaultKind fault, Optional<String> part, Optional<Line> line, List<String> between, OptionalDouble ohm,
            OptionalDouble atMetres, double probability, Optional<Predicted> predicted, String why, List<Second> also) {
        public Suspect {
            between = List.copyOf(between);
            also = List.copyOf(also);
        }
    }

    /** The second fault of a pair. */
    public record Second(FaultKind fault, Optional<String> part) {}

    /** @param at the module, terminator or trunk it is made at */
    public record NextTest(TestKind test, Optional<String> at, double minutes, double gainBits, String why, List<String> cautions) {
        public NextTest {
            cautions = List.copyOf(cautions);
        }

        NextTest because(String reason) {
            return new NextTest(test, at, minutes, gainBits, reason, cautions);
        }

        /** A test of the closed list with its minutes, what it tells and its cautions. */
        public static NextTest of(TestKind test, Optional<String> at, double gainBits, CheckPolicy policy) {
            return new NextTest(test, at, policy.minutes(test), gainBits, Hints.tells(test), Hints.cautions(test));
        }

        /** The test that tells most of one kind of fault. */
        public static NextTest telling(FaultKind fault, Optional<String> at, double gainBits, CheckPolicy policy) {
            return of(Hints.teller(fault), at, gainBits, policy);
        }
    }
}
