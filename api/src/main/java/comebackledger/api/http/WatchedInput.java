package comebackledger.api.http;

import java.io.IOException;
import java.io.InputStream;
import java.time.Duration;

/** The caller's bytes. The server's many ways to say that they stopped become one: an {@link IOException}. */
final class WatchedInput extends InputStream {
    private final InputStream in;
    private final Watchdog watchdog;
    private final Duration atMost;
    private boolean ended;

    WatchedInput(InputStream in, Watchdog watchdog, Duration atMost) {
        this.in = in;
        this.watchdog = watchdog;
        this.atMost = atMost;
    }

    @Override
    public int read() throws IOException {
        byte[] one = new byte[1];
        return read(one, 0, 1) < 0 ? -1 : one[0] & 0xff;
    }

    @Override
    public int read(byte[] buffer, int offset, int length) throws IOException {
        try (Watchdog.Watch _ = watchdog.watch(atMost)) {
            int count = in.read(buffer, offset, length);
            ended = count < 0;
            return count;
        } catch (RuntimeException e) {
            throw new IOException("the body stopped", e);
        }
    }

    /** Whether the caller has said all. */
    boolean hasEnded() {
        return ended;
    }

    /** Left to the server, which drains or drops the connection. */
    @Override
    public void close() {}
}
