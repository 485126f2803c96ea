package comebackledger.api.http;

import comebackledger.openapi.Problem;
import comebackledger.openapi.Problem.Slug;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Supplier;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Revision numbers as entity tags (RFC 9110, 8.8.3 and 13.1): revision 3 is {@code "3"}. */
public final class Revisions {
    private static final Pattern TAG = Pattern.compile("\\s*(W/)?\"([^\"]{0,256})\"\\s*(,|$)");
    private static final Pattern BARE = Pattern.compile("[0-9]{1,9}");

    private Revisions() {}

    public static String tag(int revision) {
        return "\"" + revision + "\"";
    }

    /** What {@code If-Match} says. */
    sealed interface IfMatch {
        /** No such header. */
        record Absent() implements IfMatch {}

        /** {@code *}: whatever is current. */
        record Any() implements IfMatch {}

        /** One revision; {@link #NEVER} stands for tags that no revision of ours has. */
        record One(int revision) implements IfMatch {}

        /** Any of these, whichever is current. */
        record Several(Set<Integer> revisions) implements IfMatch {}
    }

    /** No content was ever revised this often. */
    public static final int NEVER = Integer.MAX_VALUE;

    /** @throws Problem 400 if the header holds anything but entity tags */
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
        Set<Integer> named = new LinkedHashSet<>();
        Matcher tag = TAG.matcher(all);
        int end = 0;
        while (end < all.length() && tag.find(end) && tag.start() == end) {
            // A weak tag never matches where one is to be replaced (13.1.1).
            boolean ours = tag.group(1) == null && BARE.matcher(tag.group(2)).matches();
            named.add(ours ? Integer.parseInt(tag.group(2)) : NEVER);
            end = tag.end();
        }
        if (named.isEmpty() || end < all.length()) {
            throw new Problem(Slug.BAD_REQUEST, "`If-Match` must name a revision in quotes, such as `If-Match: \"3\"`.");
        }
        return named.size() == 1 ? new IfMatch.One(named.iterator().next()) : new IfMatch.Several(named);
    }

    /**
     * The revision that a write replaces.
     *
     * @param current asked only for {@code *} and for several; empty where nothing is kept yet
     */
    public static OptionalInt replaced(List<String> ifMatch, Supplier<OptionalInt> current) {
        return switch (ifMatch(ifMatch)) {
            case IfMatch.Absent() -> OptionalInt.empty();
            case IfMatch.Any() -> OptionalInt.of(current.get().orElse(NEVER));
            case IfMatch.One(int revision) -> OptionalInt.of(revision);
            case IfMatch.Several(Set<Integer> revisions) ->
                OptionalInt.of(current.get().stream().filter(revisions::contains).findFirst().orElse(NEVER));
        };
    }

    /** Changed content came without the revision that it replaces. */
    public static Problem required(String what, int current) {
        return new Problem(Slug.PRECONDITION_REQUIRED, "The content differs from revision " + current + " of " + what
                + ", which is current. Read it, apply the change, send `If-Match: " + tag(current) + "`.");
    }

    public static Problem stale(String what, int current) {
        return new Problem(Slug.PRECONDITION_FAILED, current == 0
                ? "There is no " + what + " yet that could be replaced. Send it without `If-Match`."
                : "Revision " + current + " of " + what + " is current, and `If-Match` names another. Read it, apply the change, send `If-Match: "
                        + tag(current) + "`.");
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
