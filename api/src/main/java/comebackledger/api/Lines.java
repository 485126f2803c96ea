package comebackledger.api;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.Optional;

/** The lines of an import as they arrive, in bounded memory. Empty lines count as lines and are passed over. */
final class Lines {
    private static final int BUFFER_BYTES = 1 << 16;

    private final InputStream in;
    private final int bytesAtMost;
    private final byte[] buffer = new byte[BUFFER_BYTES];
    private int position;
    private int filled;
    private long number;

    Lines(InputStream in, int bytesAtMost) {
        this.in = in;
        this.bytesAtMost = bytesAtMost;
    }

    /** @param content empty where the line was longer than allowed */
    @SuppressWarnings("ArrayRecordComponent") // passed on, never compared
    record Line(long number, Optional<byte[]> content) {}

    /** The next line that holds anything; empty at the end. */
    Optional<Line> next() throws IOException {
        while (true) {
            ByteArrayOutputStream line = new ByteArrayOutputStream();
            boolean tooLong = false;
            boolean any = false;
            boolean ended = false;
            while (!ended) {
                if (position == filled && !fill()) {
                    break;
                }
                any = true;
                int end = position;
                while (end < filled && buffer[end] != '\n') {
                    end++;
                }
                ended = end < filled;
                tooLong |= line.size() + (end - position) > bytesAtMost;
                if (!tooLong) {
                    line.write(buffer, position, end - position);
                }
                position = ended ? end + 1 : end;
            }
            if (!any) {
                return Optional.empty();
            }
            number++;
            if (tooLong) {
                return Optional.of(new Line(number, Optional.empty()));
            }
            byte[] content = line.toByteArray();
            if (!isBlank(content)) {
                return Optional.of(new Line(number, Optional.of(content)));
            }
        }
    }

    private boolean fill() throws IOException {
        position = 0;
        filled = Math.max(0, in.read(buffer, 0, buffer.length));
        return filled > 0;
    }

    private static boolean isBlank(byte[] content) {
        for (byte b : content) {
            if (b != ' ' && b != '\t' && b != '\r') {
                return false;
            }
        }
        return true;
    }
}
