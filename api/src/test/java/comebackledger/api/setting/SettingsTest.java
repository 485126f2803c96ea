package comebackledger.api.setting;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class SettingsTest {
    @TempDir
    Path folder;

    private static Settings of(Map<String, String> commandLine) {
        return new Settings(commandLine, Optional.empty(), Map.of());
    }

    private Path file(String content) throws IOException {
        return Files.writeString(folder.resolve("settings.properties"), content);
    }

    @ParameterizedTest
    @CsvSource({"server.host,127.0.0.1", "server.port,8080", "server.access-log,false", "ledger.data,ledger-data",
            "ledger.data.durability,process-kill", "ledger.fleet,default", "ledger.baseline.hours,24",
            "ledger.database.url,''", "ledger.database.user,''", "ledger.database.password,''", "mp.jwt.verify.issuer,''",
            "mp.jwt.verify.publickey.location,''",
            "mp.jwt.verify.audiences,''"})
    void key_hasItsDefault(String name, String value) {
        Settings.Key key = java.util.Arrays.stream(Settings.Key.values()).filter(k -> k.key().equals(name)).findFirst().orElseThrow();

        assertEquals(value, of(Map.of()).text(key));
        assertTrue(key.meaning().length() > 5);
    }

    /** MicroProfile Config 3.1, default ordinals: system properties 400, environment 300 (from memory); the file and the command line are ours. */
    @Test
    void value_comesFromTheHighestOrdinal() throws IOException {
        Path file = file("ledger.fleet=file\nserver.port=1");
        Map<String, String> environment = Map.of("LEDGER_FLEET", "environment");

        assertEquals("line", new Settings(Map.of("ledger.fleet", "line"), Optional.of(file), environment).text(Settings.Key.FLEET));
        assertEquals("environment", new Settings(Map.of(), Optional.of(file), environment).text(Settings.Key.FLEET));
        assertEquals("1", new Settings(Map.of(), Optional.of(file), environment).text(Settings.Key.PORT));
    }

    @Test
    void fleet_isAnIdentifier() {
        Settings spaced = of(Map.of("ledger.fleet", "our fleet"));

        assertEquals("default", of(Map.of()).fleet());
        assertTrue(assertThrows(Settings.Refused.class, spaced::fleet).getMessage().contains("ledger.fleet must be"));
    }

    @Test
    void file_mayRaiseItsOrdinal() throws IOException {
        Path file = file("ledger.fleet=file\nconfig_ordinal=350");

        assertEquals("file", new Settings(Map.of(), Optional.of(file), Map.of("ledger_fleet", "environment")).text(Settings.Key.FLEET));
    }

    @Test
    void file_withAMistypedKey_isRefused() throws IOException {
        Path file = file("ledger.fleat=x");

        Settings.Refused refused = assertThrows(Settings.Refused.class, () -> new Settings(Map.of(), Optional.of(file), Map.of()));

        assertTrue(refused.getMessage().contains("ledger.fleat"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"-1", "65536", "eighty", "99999999999"})
    void port_beyondItsRange_isRefused(String port) {
        Settings settings = of(Map.of("server.port", port));

        assertThrows(Settings.Refused.class, () -> settings.whole(Settings.Key.PORT, 0, 65_535));
    }

    @Test
    void flag_isTrueOrFalse() {
        Settings settings = of(Map.of("server.access-log", "yes"));

        assertThrows(Settings.Refused.class, () -> settings.flag(Settings.Key.ACCESS_LOG));
    }

    @ParameterizedTest
    @ValueSource(strings = {"0.0.0.0", "::", "192.0.2.1"})
    void address_thatOthersReach_needsAnIssuer(String host) {
        Settings settings = of(Map.of("server.host", host));

        assertThrows(Settings.Refused.class, settings::refuseOpenDoor);
        of(Map.of("server.host", host, "mp.jwt.verify.issuer", "https://issuer.example", "mp.jwt.verify.publickey.location", "keys.json"))
                .refuseOpenDoor();
    }

    @ParameterizedTest
    @ValueSource(strings = {"127.0.0.1", "::1", "localhost"})
    void address_ofThisMachine_needsNone(String host) {
        of(Map.of("server.host", host)).refuseOpenDoor();
    }

    @Test
    void issuer_withoutKeys_isRefused() {
        Settings settings = of(Map.of("mp.jwt.verify.issuer", "https://issuer.example"));

        assertThrows(Settings.Refused.class, settings::refuseOpenDoor);
    }
}
