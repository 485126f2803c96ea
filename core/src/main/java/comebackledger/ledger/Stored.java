package comebackledger.ledger;

import java.time.Instant;
import java.util.Optional;

/** The rows a store keeps. Documents are the canonical JSON text; derived content is bytes that only the codec reads. */
public final class Stored {
    /** The policy version of a derived row that holds nothing yet: a newer form of the tables left it, and whoever needs it makes it. */
    public static final int UNDER_NO_POLICY = -1;

    private Stored() {}

    /**
     * @param version from 1
     * @param by who recorded it
     */
    public record UnitVersion(String unit, int version, String document, Instant recordedAt, String by) {}

    /** The place of a visit in its unit's order. */
    public record VisitKey(Instant arrivedAt, String visit) {}

    /** @param revision from 1 */
    public record VisitRevision(String unit, String visit, int revision, Instant arrivedAt, boolean voided, String evidence, Instant receivedAt,
            String by) {
        public VisitKey key() {
            return new VisitKey(arrivedAt, visit);
        }
    }

    /** What the judge made of one visit. */
    @SuppressWarnings("ArrayRecordComponent") // opaque bytes, never compared
    public record Facts(String visit, Instant arrivedAt, byte[] facts) {}

    /**
     * The fold of one unit's visits.
     *
     * @param unitVersion the build it was judged against
     * @param policyVersion the policy it was judged and folded under
     * @param lastReceivedAt of any revision counted
     * @param summary the compact row that fleet answers read
     */
    @SuppressWarnings("ArrayRecordComponent") // opaque bytes, never compared
    public record Fold(int unitVersion, int policyVersion, Optional<Instant> lastReceivedAt, byte[] state, byte[] summary) {}

    @SuppressWarnings("ArrayRecordComponent") // opaque bytes, never compared
    public record Summary(String unit, int unitVersion, int policyVersion, byte[] summary) {}

    /** @param version from 1; version 0 is the defaults, which are never stored */
    public record PolicyVersion(int version, String document, Instant recordedAt, String by) {}

    /** @param version from 1 */
    @SuppressWarnings("ArrayRecordComponent") // opaque bytes, never compared
    public record BaselineVersion(int version, Instant learnedAt, byte[] content) {}

    /** How far a fleet has come: the newest position of its changes and its newest baseline, 0 where there is none. */
    public record Mark(long position, int baseline) {}

    /** What happened, as the wire spells it in kebab-case. */
    public enum ChangeKind {
        UNIT_RECORDED, VISIT_RECORDED, VISIT_REVISED, STANDING_CHANGED, POLICY_CHANGED
    }

    /** @param position grows in the order the changes became visible */
    public record Change(long position, ChangeKind kind, Optional<String> unit, Optional<String> visit, Instant at, String by) {}
}
