package comebackledger.code;

import comebackledger.Require;
import java.util.Optional;

/**
 * The status byte of an ISO 14229-1 code. A bit outside the server's availability mask is unknown, never clear.
 *
 * @param bits only those that the server supports
 */
record UdsStatus(int bits) {
    /** The bits, lowest first (ISO 14229-1). */
    enum Bit {
        TEST_FAILED, TEST_FAILED_THIS_OPERATION_CYCLE, PENDING, CONFIRMED, TEST_NOT_COMPLETED_SINCE_LAST_CLEAR, TEST_FAILED_SINCE_LAST_CLEAR,
        TEST_NOT_COMPLETED_THIS_OPERATION_CYCLE, WARNING_INDICATOR_REQUESTED;

        int mask() {
            return 1 << ordinal();
        }
    }

    UdsStatus {
        Require.that(bits >= 0 && bits <= 0xFF, "bits must be one byte, was %s", bits);
    }

    boolean has(Bit bit) {
        return (bits & bit.mask()) != 0;
    }

    /** As a visit keeps it: test failed, else confirmed, else pending; empty where none of them is said. */
    Optional<CodeState> state() {
        return has(Bit.TEST_FAILED)
                ? Optional.of(CodeState.ACTIVE)
                : has(Bit.CONFIRMED) ? Optional.of(CodeState.STORED) : has(Bit.PENDING) ? Optional.of(CodeState.PENDING) : Optional.empty();
    }
}
