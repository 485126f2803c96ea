package comebackledger.api.transfer;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class LinesTest {
    private static List<String> read(InputStream in, int atMost) throws IOException {
        Lines lines = new Lines(in, atMost);
        List<String> found = new ArrayList<>();
        for (Optional<Lines.Line> line = lines.next(); line.isPresent(); line = lines.next()) {
            found.add(line.get().number() + ":" + line.get().content().map(bytes -> new String(bytes, StandardCharsets.UTF_8)).orElse("too long"));
        }
        return found;
    }

    private static InputStream of(String text) {
        return new ByteArrayInputStream(text.getBytes(StandardCharsets.UTF_8));
    }

    /** A stream that gives one byte at a time, as a slow caller does. */
    private static InputStream slowly(String text) {
        InputStream whole = of(text);
        return new InputStream() {
            @Override
            public int read() throws IOException {
                return whole.read();
            }

            @Override
            public int read(byte[] buffer, int offset, int length) throws IOException {
                return whole.read(buffer, offset, Math.min(1, length));
            }
        };
    }

    @Test
    void next_countsEveryLineAndPassesOverEmptyOnes() throws IOException {
        String text = "a\n\n  \r\nb\r\nlast";

        assertEquals(List.of("1:a", "4:b\r", "5:last"), read(of(text), 10));
        assertEquals(read(of(text), 10), read(slowly(text), 10));
    }

    @Test
    void next_whenALineIsTooLong_saysSoAndGoesOn() throws IOException {
        assertEquals(List.of("1:0123456789", "2:too long", "3:x"), read(of("0123456789\n01234567890\nx\n"), 10));
        assertEquals(List.of("1:too long", "2:b"), read(of("a".repeat(200_000) + "\nb"), 1000));
        assertEquals(List.of("1:too long"), read(of("a".repeat(200_000)), 1000));
    }

    @Test
    void next_ofNothing_isTheEnd() throws IOException {
        assertEquals(List.of(), read(of(""), 10));
        assertEquals(List.of(), read(of("\n\n"), 10));
    }
}
