package comebackledger.api.caller;

import io.helidon.webserver.http.ServerRequest;

/** Tells who sent a request. A host that mounts the routes answers from its own security. */
@FunctionalInterface
public interface Callers {
    /** @throws comebackledger.openapi.Problem with {@code UNAUTHENTICATED} if nobody it knows did */
    Caller of(ServerRequest request);
}
