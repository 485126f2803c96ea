package comebackledger.api.http;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.Optional;

/** Where a page ended, as a string that callers pass back and do not read. */
public final class Cursor {
    private Cursor() {}

    public static String of(String place) {
        return Base64.getUrlEncoder().withoutPadding().encodeToString(place.getBytes(StandardCharsets.UTF_8));
    }

    /** The place, or empty where the text is no cursor of ours. */
    static Optional<String> place(String cursor) {
        try {
            byte[] bytes = Base64.getUrlDecoder().decode(cursor);
            String place = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
            return of(place).equals(cursor) ? Optional.of(place) : Optional.empty();
        } catch (IllegalArgumentException | CharacterCodingException e) {
            return Optional.empty();
        }
    }
}
