package comebackledger.api.transfer;

import comebackledger.openapi.Problem;
import java.io.IOException;
import java.io.InputStream;
import java.util.Arrays;
import java.util.Optional;

/** The lines of an import as they arrive, in bounded memory. Empty lines count as lines. A byte order mark of UTF-8 is passed over. */
final class Lines {
    private static final int BUFFER_BYTES = 1 << 16;
    private static final byte[] NOTHING = {};

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
    record Line(long number, Optional<byte[]> content) {
        boolean isBlank() {
            return content.filter(bytes -> !Lines.isBlank(bytes)).isEmpty() && content.isPresent();
        }
    }

    /** The next line that holds anything; empty at the end. */
    Optional<Line> next() throws IOException {
        Optional<Line> line = nextRaw();
        while (line.isPresent() && line.get().isBlank()) {
            line = nextRaw();
        }
        return line;
    }

    /**
     * The next line; empty at the end.
     *
     * @throws Problem 415 if the first bytes are those of another encoding
     */
    Optional<Line> nextRaw() throws IOException {
        byte[] content = NOTHING;
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
            tooLong |= content.length + (end - position) > bytesAtMost;
            content = tooLong ? NOTHING : joined(content, end);
            position = ended ? end + 1 : end;
        }
        if (!any) {
            return Optional.empty();
        }
        number++;
        if (number == 1) {
            content = withoutMark(content);
        }
        return Optional.of(new Line(number, tooLong ? Optional.empty() : Optional.of(content)));
    }

    /** What was read of a line before, and the buffer up to an end. */
    private byte[] joined(byte[] before, int end) {
        byte[] joined = Arrays.copyOf(before, before.length + end - position);
        System.arraycopy(buffer, position, joined, before.length, end - position);
        return joined;
    }

    private static byte[] withoutMark(byte[] content) {
        if (startsWith(content, 0xef, 0xbb, 0xbf)) {
            return Arrays.copyOfRange(content, 3, content.length);
        }
        if (startsWith(content, 0xff, 0xfe) || startsWith(content, 0xfe, 0xff)) {
            throw new Problem(Problem.Slug.UNSUPPORTED_MEDIA_TYPE,
                    "The lines are UTF-16, by their first two bytes. Save them as UTF-8 and send them again.");
        }
        return content;
    }

    private static boolean startsWith(byte[] content, int... bytes) {
        for (int i = 0; i < bytes.length; i++) {
            if (i >= content.length || (content[i] & 0xff) != bytes[i]) {
                return false;
            }
        }
        return true;
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
