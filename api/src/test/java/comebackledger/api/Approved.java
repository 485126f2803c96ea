package comebackledger.api;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Objects;

/** Texts that a person looked at and approved: they stand as files beside their test. */
public final class Approved {
    private Approved() {}

    /** The new text is left under target, to be looked at in a browser and approved by hand. */
    public static void assertApproved(Class<?> test, String name, String found) throws IOException {
        Path received = Path.of("target", "received", name.replace("approved", "received"));
        Files.createDirectories(Objects.requireNonNull(received.getParent()));
        Files.writeString(received, found);
        try (InputStream in = test.getResourceAsStream(name)) {
            assertEquals(in == null ? "" : new String(in.readAllBytes(), StandardCharsets.UTF_8), found, name + " differs; look at " + received);
        }
    }
}
