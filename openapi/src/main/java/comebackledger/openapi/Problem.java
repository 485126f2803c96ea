package comebackledger.openapi;

import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.List;

/** A problem document (RFC 9457) on its way to the caller: what is wrong and what to do. Its text repeats no free text of the request. */
public final class Problem extends RuntimeException {
    private static final String TYPE_PREFIX = "urn:comeback-ledger:problem:";

    /** The closed list of problem types, each with its HTTP status and title. */
    public enum Slug {
        MALFORMED_JSON("malformed-json", 400, "The body is not JSON"), UNKNOWN_FIELD("unknown-field", 422, "A field is not known"),
        INVALID_VALUE("invalid-value", 422, "A value is not possible"), UNIT_UNKNOWN("unit-unknown", 404, "The unit is not registered"),
        VISIT_UNKNOWN("visit-unknown", 404, "The visit is not recorded"), NOT_FOUND("not-found", 404, "There is no such thing here"),
        METHOD_NOT_ALLOWED("method-not-allowed", 405, "The method does not apply here"),
        CONFLICT("conflict", 409, "The content differs from what is kept"),
        PRECONDITION_FAILED("precondition-failed", 412, "Another revision is current"),
        PRECONDITION_REQUIRED("precondition-required", 428, "Say which revision is replaced"),
        PAYLOAD_TOO_LARGE("payload-too-large", 413, "The body is too large"),
        UNSUPPORTED_MEDIA_TYPE("unsupported-media-type", 415, "The body's media type is not read here"),
        NOT_ACCEPTABLE("not-acceptable", 406, "No representation fits what is accepted"),
        TOO_MANY_REQUESTS("too-many-requests", 429, "Too many requests at once"), UNAUTHENTICATED("unauthenticated", 401, "Credentials are needed"),
        FORBIDDEN("forbidden", 403, "The role does not allow this"), STORAGE_UNAVAILABLE("storage-unavailable", 503, "The store cannot be reached"),
        BAD_REQUEST("malformed-request", 400, "The request cannot be read"), INTERNAL("internal-error", 500, "A fault of the service itself");

        private final String word;
        private final int status;
        private final String title;

        Slug(String word, int status, String title) {
            this.word = word;
            this.status = status;
            this.title = title;
        }

        public String word() {
            return word;
        }

        public int status() {
            return status;
        }

        public String title() {
            return title;
        }
    }

    private final Slug slug;
    private final String detail;
    private final transient List<Fault> faults;

    public Problem(Slug slug, String detail, List<Fault> faults) {
        super(slug.word() + ": " + detail, null, false, false);
        this.slug = slug;
        this.detail = detail;
        this.faults = List.copyOf(faults);
    }

    public Problem(Slug slug, String detail) {
        this(slug, detail, List.of());
    }

    public Slug slug() {
        return slug;
    }

    public String detail() {
        return detail;
    }

    public List<Fault> faults() {
        return faults;
    }

    /** The document, without {@code instance}: a request is told apart by its log line. */
    public ObjectNode toWire() {
        ObjectNode node = JsonNodeFactory.instance.objectNode();
        node.put("type", TYPE_PREFIX + slug.word());
        node.put("title", slug.title());
        node.put("status", slug.status());
        node.put("detail", detail);
        if (!faults.isEmpty()) {
            ArrayNode list = node.putArray("faults");
            faults.forEach(fault -> list.addObject().put("pointer", fault.pointer()).put("detail", fault.detail()));
        }
        return node;
    }
}
