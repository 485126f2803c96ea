package comebackledger.api.caller;

import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import io.helidon.webserver.http.ServerRequest;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * Everybody on this machine, with every role and one fleet.
 *
 * <p>A page in a browser on this machine could reach us through a name that its owner points at the loopback address; it then asks by that
 * name. So only addresses and {@code localhost} are answered.
 */
public final class LocalCallers implements Callers {
    private static final Pattern ADDRESS = Pattern.compile("(localhost|[0-9.]+|\\[[0-9a-f:.]+])(:[0-9]{1,5})?");

    private final Caller everybody;

    public LocalCallers(String fleet) {
        this.everybody = new Caller("local", fleet, Set.of(Role.values()));
    }

    @Override
    public Caller of(ServerRequest request) {
        if (!ADDRESS.matcher(request.authority().toLowerCase(Locale.ROOT)).matches()) {
            throw new Problem(Slug.FORBIDDEN, "Without an issuer the service answers to localhost and to addresses only. Ask by one of those.");
        }
        return everybody;
    }
}
