package comebackledger.api.http;

/** What our own server takes before any route sees the request, and what its refusals name; common practice, no source. */
public final class ServerLimits {
    public static final int REQUEST_LINE_BYTES_AT_MOST = 4096;
    public static final int HEADER_BYTES_AT_MOST = 16_384;
    public static final int REQUESTS_AT_ONCE = 200;
    public static final int CONNECTIONS_AT_MOST = 1000;

    private ServerLimits() {}
}
