package comebackledger.code;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class CandumpTest {
    private static final String BROADCAST = """
            (1000.010000) can0 18ECFF00#200E0002FFCAFE00
            (1000.060000) can0 18EBFF00#0104FF660002037F
            (1000.110000) can0 18EBFF00#02020905D3070901
            """; // case LOG-04

    static Stream<Case> logs() {
        return Case.of("codes_candump.json", _ -> true);
    }

    @ParameterizedTest
    @MethodSource("logs")
    void log_givesItsCodesAndRejections(Case one) {
        CodeReport report = Candump.read(one.input("candump"));

        List<String> expected = new ArrayList<>();
        one.expected().get("codes").forEach(node -> expected.add(describe(node)));
        boolean namesInterface = one.expected().toString().contains("\"interface\"");
        assertEquals(expected.stream().sorted().toList(), report.codes().stream().map(code -> describe(code, namesInterface)).sorted().toList(),
                one.message());
        assertEquals(one.expectedRejections(), Case.rejections(report.rejected()), one.message());
        List<String> acknowledged = new ArrayList<>();
        one.expected().path("acknowledgements").forEach(
                node -> acknowledged.add(node.get("sourceAddress") + " " + node.get("parameterGroup") + " " + node.get("accepted")));
        assertEquals(acknowledged,
                report.acknowledgements().stream().map(ack -> ack.sourceAddress() + " " + ack.parameterGroup() + " " + ack.accepted()).toList(),
                one.message());
    }

    private static String describe(JsonNode node) {
        List<Integer> candidates = new ArrayList<>();
        node.path("spnCandidates").forEach(candidate -> candidates.add(candidate.asInt()));
        return String.join(" ", "" + node.get("sourceAddress"), node.path("spn").asText("-"), candidates.toString(), "" + node.get("fmi"),
                node.path("occurrences").asText("-"), "" + (node.get("conversionMethod").asInt() == 1),
                node.get("status").asText().replace("previously-active", "stored"), Case.texts(node.get("lampsOn")).toString(),
                node.path("interface").asText("-"), node.path("activeAtEnd").asText("true"));
    }

    private static String describe(SeenCode seen, boolean namesInterface) {
        J1939Code code = assertInstanceOf(J1939Code.class, seen.code());
        return String.join(" ", "" + seen.sourceAddress().getAsInt(), code.spn().isPresent() ? "" + code.spn().getAsInt() : "-",
                code.spnCandidates().toString(), "" + code.fmi(), seen.occurrences().isPresent() ? "" + seen.occurrences().getAsInt() : "-",
                "" + code.spn().isEmpty(), seen.status().orElseThrow().word(),
                seen.lamps().orElseThrow().on().stream().map(Lamp::word).toList().toString(),
                namesInterface ? seen.networkInterface().orElseThrow() : "-", "" + seen.activeAtEnd().orElse(true));
    }

    static Stream<Case> lines() {
        return Case.of("candump_lines.json", _ -> true);
    }

    @ParameterizedTest
    @MethodSource("lines")
    void line_isTakenApart(Case one) {
        CandumpLine line = assertInstanceOf(CandumpLine.Read.Line.class, CandumpLine.read(one.input("line")), one.message()).line();

        JsonNode expected = one.expected();
        assertEquals(expected.get("time").asText(), line.time(), one.message());
        assertEquals(expected.get("interface").asText(), line.networkInterface(), one.message());
        assertEquals(expected.get("identifier").asText(), line.frame().identifier(), one.message());
        assertEquals(expected.get("extended").asBoolean(), line.frame().extended(), one.message());
        assertEquals(expected.path("data").asText(), HexFormat.of().withUpperCase().formatHex(line.frame().data()), one.message());
        assertEquals(expected.path("remote").asBoolean(), line.frame().kind() == CandumpLine.Kind.REMOTE, one.message());
        assertEquals(expected.has("length") ? OptionalInt.of(expected.get("length").asInt()) : OptionalInt.empty(), line.frame().remoteLength(),
                one.message());
    }

    @ParameterizedTest
    @CsvSource({"(1.0) can0 800#00, identifier", "(1.0) can0 7FF#00,", "(1.0) can0 40000000#00, identifier", "(1.0) can0 GGG#00, identifier",
            "(1.0) can0 #00, identifier", "(1.0000000001) can0 123#00, time", "(1.000000001) can0 123#00,", "(-1.0) can0 123#00, time",
            "(1234567890123.0) can0 123#00, time", "() can0 123#00, time", "(1.0) abcdefghijklmnop 123#00, interface",
            "(1.0) abcdefghijklmno 123#00,",
            "(1.0) can/0 123#00, interface", "(1.0) can0 123#R9, length", "(1.0) can0 123#R8,", "(1.0) can0 123#00 X, form", "(1.0) can0 123#00 T,",
            "(1.0) can0 123, form", "(1.0)can0 123#00, form", "1.0 can0 123#00, form", "(1.0 can0 123#00, form", "(1.0) can0 123#0011223344556677,",
            "(1.0) can0 123#001122334455667788, length", "(1.0) can0 123#001, odd-hex", "(1.0) can0 123#0Z, not-hex",
            "(1.0) can0 12３#00, identifier"})
    void line_isAcceptedOrRefusedByTheWordThatFits(String line, String why) {
        String got = switch (CandumpLine.read(line)) {
            case CandumpLine.Read.Refused refused -> refused.why().word();
            case CandumpLine.Read.Line _ -> null;
            case CandumpLine.Read.Blank _ -> "blank";
        };

        assertEquals(why, got, line);
    }

    /** Cut at each character, the log loses whole codes or says where it broke, and never invents one. */
    @Test
    void log_whenCutAtEachCharacter_inventsNothing() {
        List<TroubleCode> whole = Candump.read(BROADCAST).codes().stream().map(SeenCode::code).toList();

        for (int cut = 0; cut < BROADCAST.length() - 1; cut++) {
            CodeReport report = Candump.read(BROADCAST.substring(0, cut));

            assertTrue(report.codes().isEmpty(), "cut at " + cut);
            assertEquals(cut == 0, report.rejected().isEmpty(), "cut at " + cut);
        }
        assertEquals(3, whole.size());
    }

    /** Every order of packets but the right one is refused once, and gives no code. */
    @Test
    void broadcast_whenAPacketIsRepeated_isRefusedOnce() {
        String[] lines = BROADCAST.split("\n", -1);
        String repeated = String.join("\n", lines[0], lines[1], lines[1], lines[2]);
        String swapped = String.join("\n", lines[0], lines[2], lines[1]);
        String headless = String.join("\n", lines[1], lines[2]);

        assertEquals(List.of("line 3 sequence"), Case.rejections(Candump.read(repeated).rejected()));
        assertEquals(List.of("line 2 sequence"), Case.rejections(Candump.read(swapped).rejected()));
        assertEquals(List.of("line 1 sequence"), Case.rejections(Candump.read(headless).rejected()));
        assertTrue(Candump.read(repeated).codes().isEmpty());
    }

    @Test
    void broadcast_afterABrokenOne_isReadAgain() {
        String[] lines = BROADCAST.split("\n", -1);

        CodeReport report = Candump.read(String.join("\n", lines[0], lines[2], lines[1]) + "\n" + BROADCAST);

        assertEquals(3, report.codes().size());
        assertEquals(1, report.rejected().size());
    }

    @Test
    void broadcast_whenBegunAnew_namesTheLastLineOfTheOld() {
        String[] lines = BROADCAST.split("\n", -1);

        CodeReport report = Candump.read(lines[0] + "\n" + lines[1] + "\n" + BROADCAST);

        assertEquals(List.of("line 2 incomplete"), Case.rejections(report.rejected()));
        assertEquals(3, report.codes().size());
    }

    /** T1 of SAE J1939-21 is 750 ms (from memory): at the limit is in time, one microsecond past it is not. */
    @ParameterizedTest
    @CsvSource({"1000.810000, 3", "1000.810001, 0"})
    void broadcast_waits750Milliseconds(String time, int codes) {
        assertEquals(codes, Candump.read(BROADCAST.replace("1000.110000", time)).codes().size());
    }

    @Test
    void receiver_mayAskForAPacketAgain() {
        String log = """
                (1000.010000) can0 18ECF900#100E0002FFCBFE00
                (1000.020000) can0 18EC00F9#110201FFFFCBFE00
                (1000.030000) can0 18EBF900#0100FF66001009EB
                (1000.040000) can0 18EC00F9#110201FFFFCBFE00
                (1000.050000) can0 18EBF900#0100FF66001009EB
                (1000.060000) can0 18EBF900#020D120281020901
                """;

        assertEquals(3, Candump.read(log).codes().size());
        assertTrue(Candump.read(log).rejected().isEmpty());
    }

    @Test
    void codeOfBothMessages_isActiveOnce() {
        CodeReport report = Candump.read("(1.0) can0 18FECA00#04FF66000203FFFF\n(1.1) can0 18FECB00#00FF66000205FFFF");

        SeenCode code = report.codes().getFirst();
        assertEquals(1, report.codes().size());
        assertEquals(CodeState.ACTIVE, code.status().orElseThrow());
        assertEquals(OptionalInt.of(5), code.occurrences());
        assertTrue(report.lamps().getFirst().lamps().isOn(Lamp.AMBER_WARNING).orElseThrow());
    }

    @Test
    void lamps_areThoseOfTheLastDm1_andUnknownWhereTheSenderDoesNotSay() {
        CodeReport report = Candump
                .read("(1.0) can0 18FECA00#14FF66000203FFFF\n(2.0) can0 18FECA00#C0FF66000203FFFF\n(2.0) can0 18FECA03#40FF00000000FFFF");

        DmLamps engine = report.lamps().getFirst().lamps();
        assertEquals(false, engine.isOn(Lamp.RED_STOP).orElseThrow());
        assertTrue(engine.isOn(Lamp.MALFUNCTION).isEmpty());
        assertEquals(OptionalInt.of(3), report.lamps().get(1).sourceAddress());
        assertTrue(report.lamps().get(1).lamps().isOn(Lamp.MALFUNCTION).orElseThrow());
    }

    /** Every limit at its edge and one past it. */
    @Test
    void limits_areToldAndHeld() {
        Limits limits = new Limits(3, 2, 2, 2);
        String good = "(1.0) can0 18FECA00#04FF66000203FFFF\n";

        assertTrue(Candump.read(good.repeat(3).strip(), limits).rejected().isEmpty());
        assertEquals(List.of("line 4 length"), Case.rejections(Candump.read(good.repeat(4).strip(), limits).rejected()));
        assertEquals(3, Candump.read("x\nx\nx", limits).rejected().size());
        assertTrue(Candump.read("x\nx\nx", limits).rejected().get(2).detail().contains("2"));
        String codes = "(1.0) can0 18FECA00#04FF66000203FFFF\n(1.0) can0 18FECA00#04FF66000303FFFF\n(1.0) can0 18FECA00#04FF66000403FFFF";
        assertEquals(2, Candump.read(codes, limits).codes().size());
        assertEquals(List.of("line 3 length"), Case.rejections(Candump.read(codes, limits).rejected()));
        String open = IntStream.range(0, 3).mapToObj(i -> "(1.0) can0 18ECFF0" + i + "#200E0002FFCAFE00").reduce((a, b) -> a + "\n" + b)
                .orElseThrow();
        assertEquals(List.of("line 1 incomplete", "line 2 incomplete", "line 3 length"), Case.rejections(Candump.read(open, limits).rejected()));
    }

    @Test
    void readFrames_placesByFrame() {
        CodeReport report = Candump.readFrames(List.of("18ECFF00#200E0002FFCAFE00", "18EBFF00#0104FF660002037F", "zz"));

        assertEquals(List.of("at 1 incomplete", "at 2 form"), Case.rejections(report.rejected()));
    }

    /** A DM1 that is cut does not say which codes are gone: 12 bytes announced, which is two codes and half of a third. */
    @Test
    void dm1CutInsideACode_doesNotClearTheOthers() {
        String cut = """
                (1.0) can0 18FECA00#04FF66000203FFFF
                (2.0) can0 18ECFF00#200C0002FFCAFE00
                (2.1) can0 18EBFF00#0104FF7F02090169
                (2.2) can0 18EBFF00#020003024400FFFF
                """;

        CodeReport report = Candump.read(cut);

        assertEquals(List.of("line 4 length"), Case.rejections(report.rejected()));
        assertEquals(3, report.codes().size());
        assertTrue(report.codes().getFirst().activeAtEnd().orElseThrow());
    }

    /** What was broken before is forgotten once a new message begins: its own surplus segment is refused again. */
    @Test
    void surplusSegment_isRefusedAlsoAfterAnEarlierBreak() {
        String[] lines = BROADCAST.split("\n", -1);

        CodeReport report = Candump.read(String.join("\n", lines[1], lines[0], lines[1], lines[2], lines[2]));

        assertEquals(List.of("line 1 sequence", "line 5 sequence"), Case.rejections(report.rejected()));
        assertEquals(3, report.codes().size());
    }
}
