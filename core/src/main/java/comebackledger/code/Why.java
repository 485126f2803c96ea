package comebackledger.code;

/** Why a piece of what was sent could not be read. */
public enum Why {
    /** Not the shape of a line or of a code. */
    FORM("form"), TIME("time"), INTERFACE("interface"), IDENTIFIER("identifier"), NOT_HEX("not-hex"), ODD_HEX("odd-hex"),
    /** Too short, too long, or it disagrees with its own count. */
    LENGTH("length"),
    /** A segment out of order, or without its start. */
    SEQUENCE("sequence"),
    /** It ended before its last segment. */
    INCOMPLETE("incomplete"), TIMEOUT("timeout"), ABORTED("aborted"),
    /** An answer to another question. */
    SERVICE("service"), NEGATIVE_RESPONSE("negative-response");

    private final String word;

    Why(String word) {
        this.word = word;
    }

    public String word() {
        return word;
    }
}
