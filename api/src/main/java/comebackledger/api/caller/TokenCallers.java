package comebackledger.api.caller;

import com.nimbusds.jose.JOSEException;
import com.nimbusds.jose.JOSEObjectType;
import com.nimbusds.jose.JWSAlgorithm;
import com.nimbusds.jose.jwk.Curve;
import com.nimbusds.jose.jwk.ECKey;
import com.nimbusds.jose.jwk.JWK;
import com.nimbusds.jose.jwk.JWKSet;
import com.nimbusds.jose.jwk.RSAKey;
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
import comebackledger.api.setting.Settings;
import comebackledger.openapi.Fields;
import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import io.helidon.http.HeaderNames;
import io.helidon.webserver.http.ServerRequest;
import java.io.IOException;
import java.net.InetAddress;
import java.net.URI;
import java.nio.file.FileSystemNotFoundException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.KeyFactory;
import java.security.interfaces.ECPublicKey;
import java.security.interfaces.RSAPublicKey;
import java.security.spec.InvalidKeySpecException;
import java.security.spec.X509EncodedKeySpec;
import java.text.ParseException;
import java.util.Base64;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** Callers told by a bearer token with the claims of MicroProfile JWT: {@code groups} are the roles, {@code fleet} the fleet. */
public final class TokenCallers implements Callers {
    private static final int CLOCK_SKEW_SECONDS = 30;
    private static final String PEM = "-----BEGIN PUBLIC KEY-----";
    private static final String SCHEME = "bearer ";

    private final DefaultJWTProcessor<SecurityContext> processor = new DefaultJWTProcessor<>();

    /**
     * @param keys a file with a JSON Web Key Set or with one public key as PEM, or the address of a key set, which is kept and read again
     *        when a key is not in it
     * @param audiences of which a token must name one; empty: any
     */
    public TokenCallers(String issuer, String keys, Set<String> audiences) {
        processor.setJWSTypeVerifier(
                new DefaultJOSEObjectTypeVerifier<SecurityContext>(JOSEObjectType.JWT, new JOSEObjectType("at+jwt"), null));
        processor.setJWSKeySelector(new JWSVerificationKeySelector<>(Set.of(JWSAlgorithm.RS256, JWSAlgorithm.ES256), keys(keys)));
        DefaultJWTClaimsVerifier<SecurityContext> verifier = new DefaultJWTClaimsVerifier<>(audiences.isEmpty() ? null : audiences,
                new JWTClaimsSet.Builder().issuer(issuer).build(), Set.of("exp"), null);
        verifier.setMaxClockSkew(CLOCK_SKEW_SECONDS);
        processor.setJWTClaimsSetVerifier(verifier);
    }

    private static JWKSource<SecurityContext> keys(String location) {
        try {
            if (location.startsWith("https://") || location.startsWith("http://")) {
                return JWKSourceBuilder.create(safe(URI.create(location)).toURL()).build();
            }
            String text = Files.readString(location.startsWith("file:") ? Path.of(URI.create(location)) : Path.of(location));
            if (text.startsWith(PEM)) {
                JWK only = publicKey(text);
                return (_, _) -> List.of(only); // a bare key has no identifier that a token's `kid` could match
            }
            return new ImmutableJWKSet<>(JWKSet.parse(text));
        } catch (IOException | ParseException | GeneralSecurityException | IllegalArgumentException | FileSystemNotFoundException e) {
            throw new Settings.Refused("mp.jwt.verify.publickey.location " + location
                    + " cannot be read as a JSON Web Key Set, nor as a public key in PEM (RSA, or EC on P-256).");
        }
    }

    /** Keys that travel in the clear can be changed on the way. */
    private static URI safe(URI address) throws IOException {
        if (address.getScheme().equals("http") && !InetAddress.getByName(address.getHost()).isLoopbackAddress()) {
            throw new Settings.Refused("mp.jwt.verify.publickey.location " + address + " must be an https address.");
        }
        return address;
    }

    /** A subject public key (RFC 7468, section 13). */
    private static JWK publicKey(String pem) throws GeneralSecurityException {
        byte[] der = Base64.getMimeDecoder().decode(pem.replaceAll("-----[A-Z ]+-----", "").strip());
        X509EncodedKeySpec spec = new X509EncodedKeySpec(der);
        try {
            return new RSAKey.Builder((RSAPublicKey) KeyFactory.getInstance("RSA").generatePublic(spec)).build();
        } catch (InvalidKeySpecException e) {
            return new ECKey.Builder(Curve.P_256, (ECPublicKey) KeyFactory.getInstance("EC").generatePublic(spec)).build();
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
