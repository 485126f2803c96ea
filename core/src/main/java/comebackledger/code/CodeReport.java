package comebackledger.code;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;

/**
 * What a log or an answer says.
 *
 * @param codes in the order in which they were first complete
 * @param lamps of each sender: its last DM1, or its last DM2 if it sent no DM1
 * @param acknowledgements of requests to clear codes
 * @param rejected by place
 */
public record CodeReport(List<SeenCode> codes, List<SenderLamps> lamps, List<Acknowledgement> acknowledgements, List<Rejection> rejected) {
    public CodeReport {
        codes = List.copyOf(codes);
        lamps = List.copyOf(lamps);
        acknowledgements = List.copyOf(acknowledgements);
        rejected = List.copyOf(rejected);
    }

    /** The lamps that one sender asks for. */
    public record SenderLamps(OptionalInt sourceAddress, Optional<String> networkInterface, DmLamps lamps) {}

    /**
     * A module's answer to a request to clear its codes.
     *
     * @param parameterGroup 65228 clears earlier codes (DM3), 65235 active ones (DM11)
     */
    public record Acknowledgement(int sourceAddress, Optional<String> networkInterface, int parameterGroup, boolean accepted) {}

    static CodeReport rejected(Rejection rejection) {
        return new CodeReport(List.of(), List.of(), List.of(), List.of(rejection));
    }

    /** Collects a report within the limits; what is beyond them is told once, not kept. */
    static final class Builder {
        private final Limits limits;
        private final Set<SeenCode> codes = new LinkedHashSet<>();
        private final List<SenderLamps> lamps = new ArrayList<>();
        private final Set<Acknowledgement> acknowledgements = new LinkedHashSet<>();
        private final List<Rejection> rejected = new ArrayList<>();

        Builder(Limits limits) {
            this.limits = limits;
        }

        /** False if the limit is reached and the code is not kept. */
        boolean code(SeenCode code) {
            return codes.size() < limits.maxCodes() && codes.add(code) || codes.contains(code);
        }

        void lamps(SenderLamps sender) {
            if (lamps.size() < limits.maxCodes()) {
                lamps.add(sender);
            }
        }

        void acknowledge(Acknowledgement acknowledgement) {
            if (acknowledgements.size() < limits.maxCodes()) {
                acknowledgements.add(acknowledgement);
            }
        }

        void reject(Rejection rejection) {
            if (rejected.size() < limits.maxRejections()) {
                rejected.add(rejection);
            } else if (rejected.size() == limits.maxRejections()) {
                rejected.add(new Rejection(rejection.where(), rejection.number(), Why.LENGTH,
                        "More than " + limits.maxRejections() + " pieces were rejected; this one and those after it are not listed."));
            }
        }

        CodeReport build() {
            List<Rejection> ordered = new ArrayList<>(rejected);
            ordered.sort(Comparator.comparingInt(Rejection::number));
            return new CodeReport(List.copyOf(codes), lamps, List.copyOf(acknowledgements), ordered);
        }
    }
}
