package comebackledger.api.setting;

import comebackledger.Require;
import comebackledger.openapi.Fields;
import java.io.IOException;
import java.io.InputStream;
import java.io.Reader;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Properties;

/**
 * The settings of the service, found as MicroProfile Config finds them: of the sources that give a key a value, the one with the highest ordinal.
 *
 * <table>
 * <caption>Sources</caption>
 * <tr><td>500</td><td>the command line</td></tr>
 * <tr><td>400</td><td>system properties</td></tr>
 * <tr><td>300</td><td>environment: the key, with all but letters and digits as {@code _}, as it is or in upper case</td></tr>
 * <tr><td>200</td><td>the file given with {@code --config}; {@code config_ordinal} in it changes that</td></tr>
 * <tr><td>100</td><td>{@code META-INF/microprofile-config.properties} on the class path</td></tr>
 * </table>
 * An empty value counts as none.
 */
public final class Settings {
    /** Every key, its default and what it sets. */
    public enum Key {
        HOST("server.host", "127.0.0.1", "address to listen on; any but a loopback address needs an issuer"),
        PORT("server.port", "8080", "port from 0 to 65535; 0 takes a free one"),
        ACCESS_LOG("server.access-log", "false", "true logs one line for each request"),
        DATA("ledger.data", "ledger-data", "folder of the embedded database"),
        DURABILITY("ledger.data.durability", "process-kill",
                "what an acknowledged write in that folder survives: process-kill, or power-cut at a third of the speed"),
        DATABASE_URL("ledger.database.url", "", "JDBC address of a PostgreSQL database, instead of the folder"),
        DATABASE_USER("ledger.database.user", "", "its user"),
        DATABASE_PASSWORD("ledger.database.password", "", "its password"),
        FLEET("ledger.fleet", "default", "the fleet of every caller where no issuer is configured"),
        BASELINE_HOURS("ledger.baseline.hours", "24", "from 1 to 8760; how old a baseline may be before the next is learned from the fleet"),
        ISSUER("mp.jwt.verify.issuer", "", "the `iss` of the tokens that are accepted; without it nobody is asked for one"),
        PUBLIC_KEYS("mp.jwt.verify.publickey.location", "",
                "the issuer's public keys: a file (JSON Web Key Set or PEM), or an https address of a key set"),
        AUDIENCES("mp.jwt.verify.audiences", "", "the `aud` of which tokens must name one, divided by commas; without it any is accepted");

        private final String name;
        private final String byDefault;
        private final String meaning;

        Key(String name, String byDefault, String meaning) {
            this.name = name;
            this.byDefault = byDefault;
            this.meaning = meaning;
        }

        public String key() {
            return name;
        }

        public String byDefault() {
            return byDefault;
        }

        public String meaning() {
            return meaning;
        }
    }

    private static final String ON_CLASS_PATH = "META-INF/microprofile-config.properties";

    private record Source(int ordinal, Map<String, String> values) {
        static Source of(int ordinal, Map<String, String> values) {
            String own = values.getOrDefault("config_ordinal", "").trim();
            return new Source(own.matches("-?[0-9]{1,9}") ? Integer.parseInt(own) : ordinal, values);
        }
    }

    private final List<Source> sources;
    private final Map<String, String> environment;

    public Settings(Map<String, String> commandLine, Optional<Path> file, Map<String, String> environment) {
        this.environment = environment;
        List<Source> found = new ArrayList<>();
        found.add(new Source(500, commandLine));
        found.add(Source.of(400, strings(System.getProperties())));
        found.add(Source.of(300, environment));
        file.ifPresent(path -> found.add(Source.of(200, read(path))));
        found.add(Source.of(100, onClassPath()));
        found.sort(Comparator.comparingInt(Source::ordinal).reversed());
        this.sources = List.copyOf(found);
    }

    private static Map<String, String> strings(Properties properties) {
        Map<String, String> values = new HashMap<>();
        properties.stringPropertyNames().forEach(name -> values.put(name, properties.getProperty(name)));
        return values;
    }

    private static Map<String, String> read(Path file) {
        Properties properties = new Properties();
        try (Reader reader = Files.newBufferedReader(file, StandardCharsets.UTF_8)) {
            properties.load(reader);
        } catch (IOException | IllegalArgumentException e) {
            throw new Refused("The settings file " + file + " cannot be read as properties in UTF-8.");
        }
        Map<String, String> values = strings(properties);
        for (String name : values.keySet().stream().sorted().toList()) {
            boolean ours = name.startsWith("ledger.") || name.startsWith("server.") || name.startsWith("mp.jwt.");
            if (ours && java.util.Arrays.stream(Key.values()).noneMatch(key -> key.key().equals(name))) {
                throw new Refused("The settings file " + file + " sets " + name + ", which is no setting. `serve --help` lists them.");
            }
        }
        return values;
    }

    private static Map<String, String> onClassPath() {
        Properties properties = new Properties();
        try (InputStream in = Settings.class.getClassLoader().getResourceAsStream(ON_CLASS_PATH)) {
            if (in != null) {
                properties.load(in);
            }
        } catch (IOException e) {
            throw new Refused(ON_CLASS_PATH + " on the class path cannot be read.");
        }
        return strings(properties);
    }

    public Optional<String> optional(Key key) {
        for (Source source : sources) {
            Optional<String> value = source.values() == environment
                    ? fromEnvironment(key.key())
                    : Optional.ofNullable(source.values().get(key.key()));
            if (value.isPresent()) {
                return value.map(String::trim).filter(text -> !text.isEmpty());
            }
        }
        return Optional.of(key.byDefault()).filter(text -> !text.isEmpty());
    }

    private Optional<String> fromEnvironment(String key) {
        String underscored = key.replaceAll("[^A-Za-z0-9]", "_");
        return Optional.ofNullable(environment.get(key)).or(() -> Optional.ofNullable(environment.get(underscored)))
                .or(() -> Optional.ofNullable(environment.get(underscored.toUpperCase(Locale.ROOT))));
    }

    public String text(Key key) {
        return optional(key).orElse(key.byDefault());
    }

    /** @throws Refused if it is no identifier */
    public String fleet() {
        String fleet = text(Key.FLEET);
        if (!Fields.isIdentifier(fleet)) {
            throw new Refused(
                    Key.FLEET.key() + " must be 1 to 64 letters, digits, dots, underscores or hyphens, beginning with a letter or digit, was "
                            + fleet + ".");
        }
        return fleet;
    }

    public int whole(Key key, int min, int max) {
        String text = text(key);
        int value = text.matches("[0-9]{1,9}") ? Integer.parseInt(text) : -1;
        if (value < min || value > max) {
            throw new Refused(key.key() + " must be a whole number from " + min + " to " + max + ", was " + text + ".");
        }
        return value;
    }

    public boolean flag(Key key) {
        String text = text(key);
        if (!text.equals("true") && !text.equals("false")) {
            throw new Refused(key.key() + " must be true or false, was " + text + ".");
        }
        return text.equals("true");
    }

    <E> E word(Key key, Map<String, E> words) {
        E found = words.get(text(key));
        if (found == null) {
            throw new Refused(
                    key.key() + " must be one of " + String.join(", ", words.keySet().stream().sorted().toList()) + ", was " + text(key) + ".");
        }
        return found;
    }

    /** @throws Refused unless the address is a loopback one or an issuer is set */
    public void refuseOpenDoor() {
        String host = text(Key.HOST);
        boolean loopback;
        try {
            loopback = InetAddress.getByName(host).isLoopbackAddress();
        } catch (UnknownHostException e) {
            throw new Refused("server.host " + host + " is no address of this machine.");
        }
        if (!loopback && optional(Key.ISSUER).isEmpty()) {
            throw new Refused(
                    "server.host " + host + " can be reached from other machines, and no issuer says who calls. Set mp.jwt.verify.issuer and "
                            + "mp.jwt.verify.publickey.location, or listen on 127.0.0.1.");
        }
        if (optional(Key.ISSUER).isPresent() != optional(Key.PUBLIC_KEYS).isPresent()) {
            throw new Refused("mp.jwt.verify.issuer and mp.jwt.verify.publickey.location go together: set both, or neither.");
        }
    }

    /** A setting, file or argument that the service does not start with; the message is for the person who started it. */
    public static final class Refused extends RuntimeException {
        private static final long serialVersionUID = 1L;

        public Refused(String message) {
            super(message);
            Require.that(!message.isBlank(), "say why");
        }
    }
}
