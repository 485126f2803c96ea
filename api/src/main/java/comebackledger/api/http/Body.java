package comebackledger.api.http;

import comebackledger.openapi.Json;
import java.util.List;

/** What a route reads. */
public enum Body {
    NONE(0),
    /** One unit, visit, policy or question. */
    DOCUMENT(Json.DOCUMENT_BYTES_AT_MOST, Route.JSON), CALCULATION(8 << 20, Route.JSON),
    /** Any number of lines; each line by itself is limited like a document. */
    LINES(Long.MAX_VALUE, Route.LINES, Route.CSV);

    private final List<String> mediaTypes;
    private final long bytesAtMost;

    Body(long bytesAtMost, String... mediaTypes) {
        this.mediaTypes = List.of(mediaTypes);
        this.bytesAtMost = bytesAtMost;
    }

    /** Any of which may be sent. */
    List<String> mediaTypes() {
        return mediaTypes;
    }

    long bytesAtMost() {
        return bytesAtMost;
    }
}
