package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.nimbusds.jose.JOSEException;
import com.nimbusds.jose.JWSAlgorithm;
import com.nimbusds.jose.JWSHeader;
import com.nimbusds.jose.crypto.ECDSASigner;
import com.nimbusds.jose.crypto.MACSigner;
import com.nimbusds.jose.crypto.RSASSASigner;
import com.nimbusds.jose.jwk.Curve;
import com.nimbusds.jose.jwk.ECKey;
import com.nimbusds.jose.jwk.JWKSet;
import com.nimbusds.jose.jwk.RSAKey;
import com.nimbusds.jose.jwk.gen.ECKeyGenerator;
import com.nimbusds.jose.jwk.gen.RSAKeyGenerator;
import com.nimbusds.jwt.JWTClaimsSet;
import com.nimbusds.jwt.PlainJWT;
import com.nimbusds.jwt.SignedJWT;
import comebackledger.api.caller.Role;
import comebackledger.api.caller.TokenCallers;
import comebackledger.api.http.Handler;
import comebackledger.api.http.Route;
import comebackledger.api.route.RouteTable;
import comebackledger.api.setting.Settings;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Base64;
import java.util.Date;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TokenCallersTest {
    private static final String ISSUER = "https://issuer.example";

    @TempDir
    static Path folder;

    private static RSAKey rsa;
    private static ECKey ec;
    private static RunningServer server;

    @BeforeAll
    static void start() throws JOSEException, IOException {
        rsa = new RSAKeyGenerator(2048).keyID("r").generate();
        ec = new ECKeyGenerator(Curve.P_256).keyID("e").generate();
        Path keys = Files.writeString(folder.resolve("keys.json"), new JWKSet(List.of(rsa, ec)).toPublicJWKSet().toString());
        Handler whoAmI = exchange -> exchange.send(200, JsonNodeFactory.instance.objectNode().put("name", exchange.caller().name())
                .put("fleet", exchange.fleet()).put("roles", exchange.caller().roles().size()));
        server = new RunningServer(List.of(Route.get("/v1/me", EnumSet.of(Role.PLANNER, Role.DISPATCHER), whoAmI)),
                new TokenCallers(ISSUER, keys.toString(), Set.of("ledger", "other")));
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    private static JWTClaimsSet.Builder claims() {
        return new JWTClaimsSet.Builder().issuer(ISSUER).audience("ledger").subject("s-1").claim("upn", "pat").claim("fleet", "north")
                .claim("groups", List.of("planner", "people")).expirationTime(Date.from(Instant.now().plusSeconds(300)));
    }

    private static String signed(JWTClaimsSet claims) throws JOSEException {
        SignedJWT token = new SignedJWT(new JWSHeader.Builder(JWSAlgorithm.RS256).keyID("r").build(), claims);
        token.sign(new RSASSASigner(rsa));
        return token.serialize();
    }

    private static RawHttp.Answer ask(String token) throws IOException {
        return RawHttp.send(server.port(), "GET /v1/me HTTP/1.1\r\nHost: ledger.example\r\nAuthorization: Bearer " + token + "\r\n\r\n");
    }

    /** RFC 7468, section 13; the token names a key by a `kid` that a bare key does not have. */
    @Test
    void keys_asPem_areTaken() throws JOSEException, IOException {
        for (byte[] key : List.of(rsa.toRSAPublicKey().getEncoded(), ec.toECPublicKey().getEncoded())) {
            String pem = "-----BEGIN PUBLIC KEY-----\n" + Base64.getMimeEncoder(64, new byte[]{'\n'}).encodeToString(key)
                    + "\n-----END PUBLIC KEY-----\n";
            Path file = Files.writeString(folder.resolve("key.pem"), pem);
            Handler whoAmI = exchange -> exchange.send(200, JsonNodeFactory.instance.objectNode().put("name", exchange.caller().name()));
            try (RunningServer other = new RunningServer(List.of(Route.get("/v1/me", EnumSet.of(Role.PLANNER), whoAmI)),
                    new TokenCallers(ISSUER, file.toString(), Set.of("ledger")))) {
                SignedJWT byEc = new SignedJWT(new JWSHeader.Builder(JWSAlgorithm.ES256).keyID("e").build(), claims().build());
                byEc.sign(new ECDSASigner(ec));
                String good = key.length > 200 ? signed(claims().build()) : byEc.serialize();
                String bad = key.length > 200 ? byEc.serialize() : signed(claims().build());
                String head = "GET /v1/me HTTP/1.1\r\nHost: ledger.example\r\nAuthorization: Bearer ";

                assertEquals(200, RawHttp.send(other.port(), head + good + "\r\n\r\n").status());
                assertEquals(401, RawHttp.send(other.port(), head + bad + "\r\n\r\n").status());
            }
        }
    }

    @Test
    void keys_whenInTheClearFromAnotherMachine_areRefused() {
        assertThrows(Settings.Refused.class, () -> new TokenCallers(ISSUER, "http://192.0.2.1/keys", Set.of()));
    }

    private static void assertRefused(String token) throws IOException {
        RawHttp.Answer answer = ask(token);

        assertEquals(401, answer.status(), answer.toString());
        assertTrue(answer.hasHeader("www-authenticate: Bearer"), answer.head());
        assertTrue(answer.body().contains("urn:comeback-ledger:problem:unauthenticated"), answer.body());
    }

    @Test
    void token_ofTheIssuer_namesCallerFleetAndRoles() throws Exception {
        assertEquals("{\"name\":\"pat\",\"fleet\":\"north\",\"roles\":1}", ask(signed(claims().build())).body());
    }

    @Test
    void token_signedByEllipticCurve_isAccepted() throws Exception {
        SignedJWT token = new SignedJWT(new JWSHeader.Builder(JWSAlgorithm.ES256).keyID("e").build(), claims().build());
        token.sign(new ECDSASigner(ec));

        assertEquals(200, ask(token.serialize()).status());
    }

    @Test
    void token_withoutTheRole_isForbidden() throws Exception {
        RawHttp.Answer answer = ask(signed(claims().claim("groups", List.of("technician")).build()));

        assertEquals(403, answer.status());
        assertTrue(answer.body().contains("planner or dispatcher"), answer.body());
    }

    @Test
    void token_withoutGroups_isForbidden() throws Exception {
        assertEquals(403, ask(signed(claims().claim("groups", null).build())).status());
    }

    @Test
    void token_whenExpired_isRefused() throws Exception {
        assertRefused(signed(claims().expirationTime(Date.from(Instant.now().minusSeconds(60))).build()));
    }

    @Test
    void token_ofAnotherIssuerOrAudience_isRefused() throws Exception {
        assertRefused(signed(claims().issuer("https://other.example").build()));
        assertRefused(signed(claims().audience("another").build()));
    }

    @Test
    void token_withoutFleetOrExpiry_isRefused() throws Exception {
        assertRefused(signed(claims().claim("fleet", null).build()));
        assertRefused(signed(claims().claim("fleet", "../north").build()));
        assertRefused(signed(claims().expirationTime(null).build()));
        assertRefused(signed(claims().claim("fleet", List.of("north")).build()));
    }

    /** The public key is known to everybody, so it must never serve as a shared secret. */
    @Test
    void token_signedWithThePublicKeyAsSecret_isRefused() throws Exception {
        SignedJWT token = new SignedJWT(new JWSHeader.Builder(JWSAlgorithm.HS256).keyID("r").build(), claims().build());
        token.sign(new MACSigner(rsa.toPublicJWK().toJSONString().getBytes(java.nio.charset.StandardCharsets.UTF_8)));

        assertRefused(token.serialize());
    }

    @Test
    void token_withoutSignature_isRefused() throws Exception {
        assertRefused(new PlainJWT(claims().build()).serialize());
        assertRefused("");
        assertRefused("a.b.c");
        assertRefused("x".repeat(10_000));
    }

    @Test
    void request_withoutToken_isRefused() throws Exception {
        assertEquals(401, RawHttp.send(server.port(), "GET /v1/me HTTP/1.1\r\nHost: ledger.example\r\n\r\n").status());
    }

    @Test
    void everybodyOnThisMachine_hasEveryRole() {
        assertEquals(Set.of(Role.values()), RouteTable.ANYBODY);
    }
}
