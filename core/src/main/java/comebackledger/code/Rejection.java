package comebackledger.code;

import comebackledger.Require;

/**
 * A piece of what was sent that could not be read.
 *
 * @param number of the line from 1, or of the byte, frame or entry from 0
 * @param detail a sentence: what is wrong and what is allowed; it repeats nothing of what was sent
 */
public record Rejection(Where where, int number, Why why, String detail) {
    /** What {@code number} counts. */
    public enum Where {
        /** Bytes, frames or entries, from 0. */
        AT,
        /** Lines of a log, from 1. */
        LINE
    }

    public Rejection {
        Require.that(number >= (where == Where.LINE ? 1 : 0), "number must be from 0 for bytes and frames, from 1 for lines, was %s", number);
    }

    static Rejection at(int number, Why why, String detail) {
        return new Rejection(Where.AT, number, why, detail);
    }
}
