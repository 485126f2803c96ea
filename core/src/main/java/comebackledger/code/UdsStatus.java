package comebackledger.code;

import comebackledger.Require;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The status byte of an ISO 14229-1 code. A bit outside the server's availability mask is unknown, never clear.
 *
 * @param bits only those that the server supports
 */
public record UdsStatus(int bits) {
    /** The bits, lowest first (ISO 14229-1). */
    public enum Bit {
        TEST_FAILED("testFailed"), TEST_FAILED_THIS_OPERATION_CYCLE("testFailedThisOperationCycle"), PENDING("pending"), CONFIRMED("confirmed"),
        TEST_NOT_COMPLETED_SINCE_LAST_CLEAR("testNotCompletedSinceLastClear"), TEST_FAILED_SINCE_LAST_CLEAR("testFailedSinceLastClear"),
        TEST_NOT_COMPLETED_THIS_OPERATION_CYCLE("testNotCompletedThisOperationCycle"), WARNING_INDICATOR_REQUESTED("warningIndicatorRequested");

        private final String word;

        Bit(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }

        int mask() {
            return 1 << ordinal();
        }
    }

    public UdsStatus {
        Require.that(bits >= 0 && bits <= 0xFF, "bits must be one byte, was %s", bits);
    }

    public boolean has(Bit bit) {
        return (bits & bit.mask()) != 0;
    }

    public List<Bit> names() {
        List<Bit> set = new ArrayList<>();
        for (Bit bit : Bit.values()) {
            if (has(bit)) {
                set.add(bit);
            }
        }
        return set;
    }

    /** Whether a request with this mask would be answered with the code: any bit in common. */
    public boolean matches(int mask) {
        return (bits & mask) != 0;
    }

    /** In one word, the first that holds: active, pending, stored, untested, clear (policy of this project). */
    public String summary() {
        return has(Bit.TEST_FAILED)
                ? "active"
                : has(Bit.PENDING)
                        ? "pending"
                        : has(Bit.CONFIRMED)
                                ? "stored"
                                : has(Bit.TEST_NOT_COMPLETED_SINCE_LAST_CLEAR) || has(Bit.TEST_NOT_COMPLETED_THIS_OPERATION_CYCLE)
                                        ? "untested"
                                        : "clear";
    }

    /** As a visit keeps it: test failed, else confirmed, else pending; empty where none of them is said. */
    public Optional<CodeState> state() {
        return has(Bit.TEST_FAILED)
                ? Optional.of(CodeState.ACTIVE)
                : has(Bit.CONFIRMED) ? Optional.of(CodeState.STORED) : has(Bit.PENDING) ? Optional.of(CodeState.PENDING) : Optional.empty();
    }
}
