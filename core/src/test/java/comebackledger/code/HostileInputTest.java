package comebackledger.code;

import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;

/** Every reader on seeded nonsense and on good input broken in small ways: nothing is thrown, and what is kept stays within the limits. */
class HostileInputTest {
    private static final long SEED = 20_261_125;
    private static final List<String> PIECES = List.of("(1000.010000) can0 18ECFF00#200E0002FFCAFE00", "(1000.060000) can0 18EBFF00#0104FF660002037F",
            "(1000.110000) can0 18EBFF00#02020905D3070901", "(1000.010000) can0 18ECF900#100E0002FFCBFE00",
            "(1000.020000) can0 18EC00F9#110201FFFFCBFE00",
            "(1000.030000) can0 18EBF900#0100FF66001009EB", "(1000.050000) can0 18EC00F9#130E0002FFCBFE00",
            "(1000.040000) can0 18EC00F9#FF02FFFFFFCBFE00",
            "(1000.010000) can0 18FECA00#04FF66000203FFFF", "(1000.020000) can0 18E8FF00#00FFFFFFF9CCFE00", "(1.2) can0 20000004#0000000000000000",
            "(1.0) can0 123#R", "(1.0) can0 18FECA00##504FF", "7E8#1008430301430196", "7E8#2102345555555555", "7E8#0443010128AAAAAA", "7E8#037F0311",
            "590AFF12345624", "5902FFC100872FC140", "5906C121872F0105", "430201280143", "04FF66000203FFFF", "U0121-87", "");
    private static final String ALPHABET = "0123456789ABCDEFabcdef()#.R T\t\r\nxZ-\u0660\uD83D\u0000cangWorte_:";

    @Test
    void readers_neverThrow() {
        fuzz(20_000);
    }

    @Test
    @Tag("long")
    void readers_neverThrow_aMillionTimes() {
        fuzz(1_000_000);
    }

    private static void fuzz(int times) {
        SplittableRandom random = new SplittableRandom(SEED);
        for (int i = 0; i < times; i++) {
            String text = random.nextInt(3) == 0 ? noise(random) : broken(random);
            try {
                readAll(text);
            } catch (RuntimeException e) {
                throw new AssertionError("seed " + SEED + ", input " + i + ": " + text, e);
            }
        }
    }

    private static void readAll(String text) {
        List<String> lines = List.of(text.split("\n", -1));
        check(Candump.read(text), lines.size());
        check(Candump.readFrames(lines), lines.size());
        check(ObdResponse.readFrames(lines), lines.size());
        check(UdsResponse.readFrames(lines), lines.size());
        check(ObdResponse.read(text, Optional.empty(), OptionalInt.empty()), text.length());
        check(UdsResponse.report(text, Optional.of(text), OptionalInt.empty()), text.length());
        check(J2012Bytes.read(text, OptionalInt.empty()), text.length());
        check(DmMessage.read(DmKind.DM1, text, OptionalInt.empty()), text.length());
        J2012Code.parse(text).ifPresent(code -> assertTrue(CodeMeaning.of(code).meaning().endsWith(".")));
    }

    private static void check(CodeReport report, int places) {
        for (Rejection rejection : report.rejected()) {
            assertTrue(rejection.number() <= places, "a rejection names a place that there is");
            assertTrue(rejection.detail().endsWith("."), "a detail is a sentence");
        }
        for (SeenCode seen : report.codes()) {
            assertTrue(CodeMeaning.of(seen.code()).meaning().endsWith("."));
        }
    }

    private static String noise(SplittableRandom random) {
        StringBuilder text = new StringBuilder();
        int length = random.nextInt(60);
        for (int i = 0; i < length; i++) {
            text.append(ALPHABET.charAt(random.nextInt(ALPHABET.length())));
        }
        return text.toString();
    }

    /** Up to eight good pieces in any order, with up to three characters changed, dropped or doubled. */
    private static String broken(SplittableRandom random) {
        List<String> pieces = new ArrayList<>();
        int count = 1 + random.nextInt(8);
        for (int i = 0; i < count; i++) {
            pieces.add(frame(PIECES.get(random.nextInt(PIECES.size())), random));
        }
        StringBuilder text = new StringBuilder(String.join("\n", pieces));
        int changes = random.nextInt(4);
        for (int i = 0; i < changes && !text.isEmpty(); i++) {
            int at = random.nextInt(text.length());
            switch (random.nextInt(3)) {
                case 0 -> text.setCharAt(at, ALPHABET.charAt(random.nextInt(ALPHABET.length())));
                case 1 -> text.deleteCharAt(at);
                default -> text.insert(at, text.charAt(at));
            }
        }
        return text.toString();
    }

    /** Half of the time without time and interface, as the readers of frames want it. */
    private static String frame(String line, SplittableRandom random) {
        return line.startsWith("(") && random.nextBoolean() ? line.substring(line.lastIndexOf(' ') + 1) : line;
    }

    /**
     * 8 MiB, the largest body of a calculation, of each kind that would grow something: half a million lines of nonsense, a new message from
     * every sender that is never finished, new codes from every sender, one endless line. What is kept is bounded, not what was sent.
     */
    @Test
    void largestBodies_keepNoMoreThanTheLimits() {
        StringBuilder messages = new StringBuilder();
        StringBuilder codes = new StringBuilder();
        for (int i = 0; i < 180_000; i++) {
            messages.append(String.format("(1.0) c%03X 18EC%02X%02X#10F906FFFFCAFE00%n", i >> 16, i & 0xFF, i >> 8 & 0xFF));
            codes.append(String.format("(1.0) can0 18FECA%02X#04FF%02X%02X0203FFFF%n", i & 0xFF, i >> 8 & 0xFF, i >> 16));
        }

        assertBounded(Candump.read("x\n".repeat(4 << 20)));
        assertBounded(Candump.read(messages.toString()));
        assertBounded(Candump.read(codes.toString()));
        assertBounded(Candump.read("(1.0) can0 18FECA00#" + "41".repeat(4 << 20)));
        assertBounded(DmMessage.read(DmKind.DM1, "04FF" + "66000203".repeat(1 << 20), OptionalInt.empty()));
        assertBounded(ObdResponse.readFrames(List.of("7E8#2101".repeat(1 << 20).split("(?=7E8)"))));
    }

    private static void assertBounded(CodeReport report) {
        assertTrue(report.codes().size() <= Limits.DEFAULT.maxCodes());
        assertTrue(report.rejected().size() <= Limits.DEFAULT.maxRejections() + 1);
        assertTrue(report.lamps().size() <= Limits.DEFAULT.maxCodes());
    }
}
