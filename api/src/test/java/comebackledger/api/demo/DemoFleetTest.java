package comebackledger.api.demo;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.ObjectNode;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.Test;

class DemoFleetTest {
    private static final Instant NOON = Instant.parse("2026-05-02T12:00:00Z");

    @Test
    void lines_areTheSameForOneDay() {
        assertEquals(DemoFleet.lines(NOON), DemoFleet.lines(NOON.plusSeconds(3600)));
        assertNotEquals(DemoFleet.lines(NOON), DemoFleet.lines(NOON.plusSeconds(86_400)));
    }

    @Test
    void lines_nameTheirUnitsFirstAndNoVisitTwice() {
        List<ObjectNode> lines = DemoFleet.lines(NOON);

        assertEquals(36, lines.stream().filter(line -> line.has("unit")).count());
        assertEquals(lines.stream().filter(line -> line.has("visit")).count(),
                lines.stream().map(line -> line.path("visit").path("id").asText()).filter(id -> !id.isEmpty()).distinct().count());
        assertTrue(lines.size() > 300, "two years of work orders: " + lines.size());
    }

    @Test
    void lines_endBeforeTheDayAndAreMarkedInvented() {
        for (ObjectNode line : DemoFleet.lines(NOON)) {
            if (line.has("unit")) {
                assertEquals("invented", line.at("/unit/tags/origin").asText());
            } else {
                assertTrue(Instant.parse(line.at("/visit/arrivedAt").asText()).isBefore(NOON));
                assertTrue(!line.at("/visit").has("releasedAt") || Instant.parse(line.at("/visit/releasedAt").asText()).isBefore(NOON));
            }
        }
    }
}
