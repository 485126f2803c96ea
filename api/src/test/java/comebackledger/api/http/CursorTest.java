package comebackledger.api.http;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CursorTest {
    @Test
    void place_undoesOf() {
        assertEquals(Optional.of("2026-03-01T08:00:00Z WO-1"), Cursor.VISITS.place(Cursor.VISITS.of("2026-03-01T08:00:00Z WO-1")));
    }

    @Test
    void place_ofAnotherList_isEmpty() {
        assertEquals(Optional.empty(), Cursor.UNITS.place(Cursor.CHANGES.of("7")));
    }

    @ParameterizedTest
    @ValueSource(strings = {"!", "a", "_w", "YQ==", "YR", " "})
    void place_ofWhatWeNeverGave_isEmpty(String text) {
        assertEquals(Optional.empty(), Cursor.UNITS.place(text));
    }
}
