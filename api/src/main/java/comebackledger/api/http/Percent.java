package comebackledger.api.http;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.StandardCharsets;
import java.util.Optional;

/** Percent-encoding (RFC 3986, 2.1), read strictly. */
final class Percent {
    private Percent() {}

    /** The text, or empty where an escape is broken or the bytes are not UTF-8. */
    static Optional<String> decoded(String raw) {
        if (raw.indexOf('%') < 0) {
            return Optional.of(raw);
        }
        ByteArrayOutputStream bytes = new ByteArrayOutputStream(raw.length());
        for (int i = 0; i < raw.length(); i++) {
            char c = raw.charAt(i);
            if (c == '%') {
                int high = i + 2 < raw.length() ? Character.digit(raw.charAt(i + 1), 16) : -1;
                int low = high < 0 ? -1 : Character.digit(raw.charAt(i + 2), 16);
                if (low < 0) {
                    return Optional.empty();
                }
                bytes.write(high * 16 + low);
                i += 2;
            } else {
                bytes.writeBytes(String.valueOf(c).getBytes(StandardCharsets.UTF_8));
            }
        }
        try {
            return Optional.of(StandardCharsets.UTF_8.newDecoder().decode(ByteBuffer.wrap(bytes.toByteArray())).toString());
        } catch (CharacterCodingException e) {
            return Optional.empty();
        }
    }
}
