package comebackledger.openapi;

import java.nio.charset.StandardCharsets;
import java.util.Optional;
import java.util.Set;

/**
 * A JSON document that was parsed before and whose texts hold no escape: its compact form is itself without the white space between its tokens, and
 * need not be parsed and written again.
 */
final class PlainText {
    private static final char REPLACEMENT = '\uFFFD';
    private static final char BYTE_ORDER_MARK = '\uFEFF';

    private final String text;
    private final StringBuilder out;
    private int at;

    private PlainText(String text) {
        this.text = text;
        this.out = new StringBuilder(text.length());
    }

    /** Empty where an escape or a byte order mark stands in it, or where its bytes may not be what a strict reader of UTF-8 takes. */
    static Optional<PlainText> of(byte[] document) {
        String text = new String(document, StandardCharsets.UTF_8);
        boolean plain = text.indexOf('\\') < 0 && text.indexOf(REPLACEMENT) < 0 && text.charAt(0) != BYTE_ORDER_MARK;
        return plain ? Optional.of(new PlainText(text)) : Optional.empty();
    }

    /** The whole document. */
    String compact() {
        copyValue();
        return out.toString();
    }

    /** The object that is the value of the document's one member of that name, without some of its own members. */
    String compactMember(String member, Set<String> without) {
        find('{');
        while (!name().equals(member)) {
            passValue();
        }
        find('{');
        out.append('{');
        while (hasMember()) {
            String name = name();
            if (without.contains(name)) {
                passValue();
            } else {
                out.append(out.length() == 1 ? "\"" : ",\"").append(name).append("\":");
                copyValue();
            }
        }
        return out.append('}').toString();
    }

    private void find(char wanted) {
        at = text.indexOf(wanted, at) + 1;
    }

    private static boolean isSpace(char c) {
        return c == ' ' || c == '\n' || c == '\r' || c == '\t';
    }

    /** Whether a member follows, past the comma before it, rather than the end of the object. */
    private boolean hasMember() {
        while (isSpace(text.charAt(at)) || text.charAt(at) == ',') {
            at++;
        }
        return text.charAt(at) == '"';
    }

    /** The next name, passed with its colon. */
    private String name() {
        int from = text.indexOf('"', at) + 1;
        int to = text.indexOf('"', from);
        at = to + 1;
        find(':');
        return text.substring(from, to);
    }

    private void passValue() {
        int length = out.length();
        copyValue();
        out.setLength(length);
    }

    /** Copies runs between white space, up to the comma or bracket that ends the value. */
    private void copyValue() {
        int depth = 0;
        int from = at;
        while (at < text.length()) {
            char c = text.charAt(at);
            if (c == '"') {
                at = text.indexOf('"', at + 1);
            } else if (c == '{' || c == '[') {
                depth++;
            } else if (depth == 0 && (c == ',' || c == '}' || c == ']')) {
                break;
            } else if (c == '}' || c == ']') {
                depth--;
            } else if (isSpace(c)) {
                out.append(text, from, at);
                from = at + 1;
            }
            at++;
        }
        out.append(text, from, at);
    }
}
