package comebackledger.api.http;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import comebackledger.openapi.Problem;
import java.util.List;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** RFC 9110, 13.1. */
class RevisionsTest {
    @Test
    void ifMatch_namesOneRevision() {
        assertEquals(new Revisions.IfMatch.Absent(), Revisions.ifMatch(List.of()));
        assertEquals(new Revisions.IfMatch.Any(), Revisions.ifMatch(List.of("*")));
        assertEquals(new Revisions.IfMatch.One(3), Revisions.ifMatch(List.of("\"3\"")));
        assertEquals(new Revisions.IfMatch.One(3), Revisions.ifMatch(List.of(" 3 ")));
    }

    @ParameterizedTest
    @ValueSource(strings = {"W/\"3\"", "\"abc\"", "\"\"", "\"99999999999\""})
    void ifMatch_whenNoRevisionHasTheTag_matchesNone(String header) {
        assertEquals(new Revisions.IfMatch.One(Revisions.NEVER), Revisions.ifMatch(List.of(header)));
    }

    @ParameterizedTest
    @CsvSource(quoteCharacter = '\'', value = {"'\"3\", \"4\"',4", "'\"4\",\"x\"',4", "'\"3\", W/\"4\"'," + Revisions.NEVER,
            "'\"3\", \"5\"'," + Revisions.NEVER})
    void replaced_whenSeveralAreNamed_isTheCurrentIfItIsOneOfThem(String header, int replaced) {
        assertEquals(OptionalInt.of(replaced), Revisions.replaced(List.of(header), () -> OptionalInt.of(4)));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "\"3", "three", "\"3\" \"4\"", "\"3\", four", "99999999999"})
    void ifMatch_whenUnreadable_isRefused(String header) {
        List<String> headers = List.of(header);

        assertThrows(Problem.class, () -> Revisions.ifMatch(headers));
    }

    @ParameterizedTest
    @CsvSource(quoteCharacter = '\'', value = {"'\"a1\"',true", "'W/\"a1\"',true", "'\"b\", \"a1\"',true", "'*',true", "'\"b\"',false", "'a1',false",
            "'',false",
            "'\"b\" \"a1\"',false"})
    void isKnown_looksForTheTag(String header, boolean known) {
        assertEquals(known, Revisions.isKnown(List.of(header), "\"a1\""));
    }
}
