package comebackledger.code;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class J2012CodeTest {
    static Stream<Case> bothWays() {
        return Case.of("codes_j2012.json", one -> one.expected().has("bytes"));
    }

    @ParameterizedTest
    @MethodSource("bothWays")
    void twoByteCode_goesBothWays(Case one) {
        J2012Code code = J2012Code.parse(one.input("code")).orElseThrow();

        assertEquals(one.expected().get("bytes").asText(), String.format(Locale.ROOT, "%04X", code.number()), one.message());
        assertEquals(one.expected().get("code").asText(), J2012Code.ofTwoBytes(Integer.parseInt(one.input("bytes"), 16)).text(), one.message());
    }

    static Stream<Case> noCode() {
        return Case.of("codes_j2012.json", one -> one.expected().has("rejected"));
    }

    @ParameterizedTest
    @MethodSource("noCode")
    void parse_whenTextIsNoCode_isEmpty(Case one) {
        assertEquals(Optional.empty(), J2012Code.parse(one.input("code")), one.message());
    }

    @ParameterizedTest
    @ValueSource(strings = {"P01000", "0100", "U0100-", "U0100-8", "U0100-8G", "U0100-877", "U0100 87", " U0100", "U0100 ", "U01٠0", "U0100−87",
            "U-100", "P+100"})
    void parse_whenTextIsNearlyACode_isEmpty(String text) {
        assertEquals(Optional.empty(), J2012Code.parse(text));
    }

    @Test
    void parse_acceptsLowerCaseAndAFailureType() {
        assertEquals("U010C", J2012Code.parse("u010c").orElseThrow().text()); // case DTC-59: policy of this project
        assertEquals("U0121-8F", J2012Code.parse("u0121-8f").orElseThrow().text());
    }

    @Test
    void allZero_isAnUnusedSlot() {
        assertTrue(J2012Code.ofTwoBytes(0).isUnused()); // case DTC-29
        assertEquals("P0000", J2012Code.ofTwoBytes(0).text());
        assertEquals(0, J2012Bytes.read("0000", OptionalInt.empty()).codes().size());
        assertFalse(J2012Code.ofTwoBytes(1).isUnused());
    }

    static Stream<Case> owners() {
        return Case.of("codes_j2012.json", one -> one.expected().has("owner"));
    }

    @ParameterizedTest
    @MethodSource("owners")
    void owner_isThatOfTheRange(Case one) {
        J2012Code code = J2012Code.parse((one.input("prefix") + "0000").substring(0, 5)).orElseThrow();

        assertEquals(one.expected().get("owner").asText().replace('/', '_').toUpperCase(Locale.ROOT), code.owner().name(), one.message());
    }

    static Stream<Case> threeBytes() {
        return Case.of("codes_j2012.json", one -> one.expected().has("failureType"));
    }

    @ParameterizedTest
    @MethodSource("threeBytes")
    void threeByteCode_hasAFailureType(Case one) {
        J2012Code code = (J2012Code) J2012Bytes.read(one.input("bytes"), OptionalInt.empty()).codes().getFirst().code();

        assertEquals(one.expected().get("code").asText(), code.base(), one.message());
        assertEquals(one.expected().get("failureType").asText(), code.failureTypeText().orElseThrow(), one.message());
    }

    @Test
    void textAndNumber_agreeForEveryCode() {
        for (int number = 0; number <= 0xFFFF; number++) {
            J2012Code code = new J2012Code(number, OptionalInt.of(number & 0xFF));

            assertEquals(Optional.of(code), J2012Code.parse(code.text()));
        }
    }
}
