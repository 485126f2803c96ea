package comebackledger.api.http;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.Optional;

/** Where a page of one of our lists ended, as a string that callers pass back and do not read; that of another list is refused. */
public enum Cursor {
    UNITS("u"), VISITS("v"), CHANGES("c");

    private final String mark;

    Cursor(String mark) {
        this.mark = mark;
    }

    public String of(String place) {
        return Base64.getUrlEncoder().withoutPadding().encodeToString((mark + place).getBytes(StandardCharsets.UTF_8));
    }

    /** The place, or empty where the text is no cursor of this list. */
    Optional<String> place(String cursor) {
        try {
            byte[] bytes = Base64.getUrlDecoder().decode(cursor);
            String marked = StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes)).toString();
            return Optional.of(marked).filter(text -> text.startsWith(mark)).map(text -> text.substring(mark.length()))
                    .filter(place -> of(place).equals(cursor));
        } catch (IllegalArgumentException | CharacterCodingException e) {
            return Optional.empty();
        }
    }
}
