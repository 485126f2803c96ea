package comebackledger.api;

/** What a route reads. */
enum Body {
    NONE("", 0),
    /** One unit, visit, policy or question. */
    DOCUMENT("application/json", 1 << 20),
    CALCULATION("application/json", 8 << 20),
    /** Any number of lines; each line by itself is limited like a document. */
    LINES("application/x-ndjson", Long.MAX_VALUE);

    private final String mediaType;
    private final long bytesAtMost;

    Body(String mediaType, long bytesAtMost) {
        this.mediaType = mediaType;
        this.bytesAtMost = bytesAtMost;
    }

    String mediaType() {
        return mediaType;
    }

    long bytesAtMost() {
        return bytesAtMost;
    }
}
