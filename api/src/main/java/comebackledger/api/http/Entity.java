package comebackledger.api.http;

import io.helidon.http.HeaderValues;
import io.helidon.webserver.CloseConnectionException;
import io.helidon.webserver.http.ServerRequest;
import java.io.IOException;
import java.time.Duration;
import org.jspecify.annotations.Nullable;

/** The body of one request, and what becomes of it where nobody read it. */
final class Entity {
    /** What is read and thrown away so that a caller who is still sending sees the answer; common practice, no source. */
    private static final int THROWN_AWAY_BYTES = 16 << 20;
    private static final Duration PATIENCE = Duration.ofSeconds(2);

    private final ServerRequest request;
    private final Watchdog watchdog;
    private @Nullable WatchedInput stream;

    Entity(ServerRequest request, Watchdog watchdog) {
        this.request = request;
        this.watchdog = watchdog;
    }

    WatchedInput stream(Duration atMost) {
        if (stream == null) {
            stream = new WatchedInput(request.content().inputStream(), watchdog, atMost);
        }
        return stream;
    }

    boolean isEmpty() {
        return !request.content().hasEntity();
    }

    /** Whether the caller holds the body back until it is asked for, and nobody asked: then an answer may stand in its place. */
    boolean isHeldBack() {
        return stream == null && !isEmpty() && request.headers().contains(HeaderValues.EXPECT_100);
    }

    /**
     * Reads a moderate rest, for a moment; the server itself would wait for all of it without end, and hold one of its places for requests.
     *
     * @throws CloseConnectionException if more is left, or was never sent
     */
    void settle() {
        if (isHeldBack()) {
            throw new CloseConnectionException("the body was not wanted");
        }
        if (isEmpty() || stream != null && stream.hasEnded()) {
            return;
        }
        long until = System.nanoTime() + PATIENCE.toNanos();
        WatchedInput rest = stream(PATIENCE);
        byte[] buffer = new byte[1 << 14];
        try {
            for (int left = THROWN_AWAY_BYTES; left > 0 && System.nanoTime() < until;) {
                int count = rest.read(buffer, 0, buffer.length);
                if (count < 0) {
                    return;
                }
                left -= count;
            }
        } catch (IOException e) {
            throw new CloseConnectionException("the body stopped", e);
        }
        throw new CloseConnectionException("more body than anybody reads");
    }
}
