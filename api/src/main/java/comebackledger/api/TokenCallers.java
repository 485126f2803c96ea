package comebackledger.api;

import com.nimbusds.jose.JOSEException;
import com.nimbusds.jose.JOSEObjectType;
import com.nimbusds.jose.JWSAlgorithm;
import com.nimbusds.jose.jwk.JWKSet;
import com.nimbusds.jose.jwk.source.ImmutableJWKSet;
import com.nimbusds.jose.jwk.source.JWKSource;
import com.nimbusds.jose.jwk.source.JWKSourceBuilder;
import com.nimbusds.jose.proc.BadJOSEException;
import com.nimbusds.jose.proc.DefaultJOSEObjectTypeVerifier;
import com.nimbusds.jose.proc.JWSVerificationKeySelector;
import com.nimbusds.jose.proc.SecurityContext;
import com.nimbusds.jwt.JWTClaimsSet;
import com.nimbusds.jwt.proc.DefaultJWTClaimsVerifier;
import com.nimbusds.jwt.proc.DefaultJWTProcessor;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import io.helidon.http.HeaderNames;
import io.helidon.webserver.http.ServerRequest;
import java.io.IOException;
import java.net.URI;
import java.nio.file.Path;
import java.text.ParseException;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** Callers told by a bearer token with the claims of MicroProfile JWT: {@code groups} are the roles, {@code fleet} the fleet. */
final class TokenCallers implements Callers {
    private static final int CLOCK_SKEW_SECONDS = 30;
    private static final String SCHEME = "bearer ";

    private final DefaultJWTProcessor<SecurityContext> processor = new DefaultJWTProcessor<>();

    /** @param jwks a file, or an address whose answer is kept and read again when a key is not in it */
    TokenCallers(String issuer, String jwks, Optional<String> audience) {
        processor.setJWSTypeVerifier(
                new DefaultJOSEObjectTypeVerifier<SecurityContext>(JOSEObjectType.JWT, new JOSEObjectType("at+jwt"), null));
        processor.setJWSKeySelector(new JWSVerificationKeySelector<>(Set.of(JWSAlgorithm.RS256, JWSAlgorithm.ES256), keys(jwks)));
        DefaultJWTClaimsVerifier<SecurityContext> verifier = new DefaultJWTClaimsVerifier<>(audience.orElse(null),
                new JWTClaimsSet.Builder().issuer(issuer).build(), Set.of("exp"));
        verifier.setMaxClockSkew(CLOCK_SKEW_SECONDS);
        processor.setJWTClaimsSetVerifier(verifier);
    }

    private static JWKSource<SecurityContext> keys(String jwks) {
        try {
            return jwks.startsWith("https://") || jwks.startsWith("http://")
                    ? JWKSourceBuilder.create(URI.create(jwks).toURL()).build()
                    : new ImmutableJWKSet<>(JWKSet.load(Path.of(jwks).toFile()));
        } catch (IOException | ParseException | IllegalArgumentException e) {
            throw new Settings.Refused("ledger.auth.jwks " + jwks + " cannot be read as a JSON Web Key Set.");
        }
    }

    @Override
    public Caller of(ServerRequest request) {
        List<String> headers = request.headers().all(HeaderNames.AUTHORIZATION, List::of);
        if (headers.size() != 1 || !headers.getFirst().toLowerCase(Locale.ROOT).startsWith(SCHEME)) {
            throw new Problem(Slug.UNAUTHENTICATED, "Send one header `Authorization: Bearer` with a token of the configured issuer.");
        }
        try {
            return caller(processor.process(headers.getFirst().substring(SCHEME.length()).trim(), null));
        } catch (ParseException | BadJOSEException | JOSEException | IllegalArgumentException e) {
            throw new Problem(Slug.UNAUTHENTICATED,
                    "The token is not accepted: it must be signed by the issuer (RS256 or ES256), name issuer and audience as configured, and not be expired.");
        }
    }

    private static Caller caller(JWTClaimsSet claims) throws ParseException {
        String fleet = claims.getStringClaim("fleet");
        if (fleet == null || !Fields.isIdentifier(fleet)) {
            throw new Problem(Slug.UNAUTHENTICATED, "The token has no claim `fleet` with an identifier in it.");
        }
        EnumSet<Role> roles = EnumSet.noneOf(Role.class);
        List<String> groups = claims.getStringListClaim("groups");
        for (String group : groups == null ? List.<String>of() : groups) {
            Optional.ofNullable(Role.BY_WORD.get(group)).ifPresent(roles::add);
        }
        String name = first(claims.getStringClaim("upn"), claims.getStringClaim("preferred_username"), claims.getSubject());
        return new Caller(name, fleet, roles);
    }

    private static String first(@org.jspecify.annotations.Nullable String... names) {
        for (String name : names) {
            if (name != null && !name.isBlank()) {
                return name;
            }
        }
        throw new Problem(Slug.UNAUTHENTICATED, "The token names nobody: it needs a claim `upn`, `preferred_username` or `sub`.");
    }
}
