package comebackledger.api.transfer;

import static org.junit.jupiter.api.Assertions.assertEquals;

import comebackledger.openapi.Json;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

class CsvTest {
    private static String csv(String items) {
        return new String(Csv.of(Json.kept(items)), StandardCharsets.UTF_8);
    }

    @Test
    void of_namesNestedMembersWithDots() {
        assertEquals("rank,rate.low,flags\r\n1,-0.5,a; b\r\n2,,\r\n",
                csv("[{\"rank\":1,\"rate\":{\"low\":-0.5},\"flags\":[\"a\",\"b\"]},{\"rank\":2}]"));
    }

    /** RFC 4180, 2.5 to 2.7. */
    @Test
    void of_quotesWhatDivides() {
        assertEquals("a\r\n\"x,y \"\"z\"\"\nw\"\r\n", csv("[{\"a\":\"x,y \\\"z\\\"\\nw\"}]"));
    }

    @Test
    void of_defusesFormulas() {
        assertEquals("a,'=b\r\n'=cmd(),'@x\r\n", csv("[{\"a\":\"=cmd()\",\"=b\":\"@x\"}]"));
        assertEquals("a\r\n'+1\r\n'-1\r\n'\tx\r\n", csv("[{\"a\":\"+1\"},{\"a\":\"-1\"},{\"a\":\"\\tx\"}]"));
    }
}
