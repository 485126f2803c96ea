package comebackledger.api;

import io.helidon.webserver.http.HttpFeature;
import io.helidon.webserver.http.HttpRouting;

/** The routes at {@code /v1} of a host's own Helidon server: {@code routing.addFeature(new LedgerFeature(service))}. */
public final class LedgerFeature implements HttpFeature {
    private final LedgerService service;

    public LedgerFeature(LedgerService service) {
        this.service = service;
    }

    @Override
    public void setup(HttpRouting.Builder routing) {
        routing.register("/", service);
    }
}
