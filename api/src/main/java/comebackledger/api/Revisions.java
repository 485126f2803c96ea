package comebackledger.api;

import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Revision numbers as entity tags (RFC 9110, 8.8.3 and 13.1): revision 3 is {@code "3"}. */
final class Revisions {
    private static final Pattern TAG = Pattern.compile("\\s*(W/)?\"([^\"]{0,256})\"\\s*(,|$)");
    private static final Pattern BARE = Pattern.compile("[0-9]{1,9}");

    private Revisions() {}

    static String tag(int revision) {
        return "\"" + revision + "\"";
    }

    /** What {@code If-Match} says. */
    sealed interface IfMatch {
        /** No such header. */
        record Absent() implements IfMatch {}

        /** {@code *}: whatever is current. */
        record Any() implements IfMatch {}

        /** One revision; 0 stands for tags that no revision of ours has. */
        record One(int revision) implements IfMatch {}
    }

    /** @throws Problem 400 if the header is no entity tag, or names more than one */
    static IfMatch ifMatch(List<String> headers) {
        if (headers.isEmpty()) {
            return new IfMatch.Absent();
        }
        String all = String.join(",", headers).trim();
        if (all.equals("*")) {
            return new IfMatch.Any();
        }
        if (BARE.matcher(all).matches()) {
            return new IfMatch.One(Integer.parseInt(all));
        }
        Matcher tag = TAG.matcher(all);
        if (!tag.matches()) {
            throw new Problem(Slug.BAD_REQUEST, "`If-Match` must name one revision in quotes, such as `If-Match: \"3\"`.");
        }
        // A weak tag never matches where one is to be replaced (13.1.1).
        boolean ours = tag.group(1) == null && BARE.matcher(tag.group(2)).matches();
        return new IfMatch.One(ours ? Integer.parseInt(tag.group(2)) : 0);
    }

    /** Whether {@code If-None-Match} holds this tag, so that the caller's copy is still good. Unreadable headers hold nothing. */
    static boolean isKnown(List<String> headers, String tag) {
        String all = String.join(",", headers);
        if (all.trim().equals("*")) {
            return true;
        }
        String opaque = tag.substring(1, tag.length() - 1);
        Matcher each = TAG.matcher(all);
        int end = 0;
        while (end < all.length() && each.find(end) && each.start() == end) {
            if (each.group(2).equals(opaque)) {
                return true;
            }
            end = each.end();
        }
        return false;
    }
}
