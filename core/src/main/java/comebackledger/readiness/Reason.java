package comebackledger.readiness;

import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Why the answer is what it is.
 *
 * @param grounds the visits it rests on
 * @param source of the rule or limit
 */
public record Reason(Kind kind, Answer weight, Optional<String> place, String detail, List<String> grounds, String source) {
    /** The closed set, as the wire spells it in kebab-case, heaviest first. */
    public enum Kind {
        OUT_OF_SERVICE(Answer.HOLD), REPORTED_DEFECT_UNCERTIFIED(Answer.HOLD), RED_STOP_LAMP(Answer.HOLD), IN_SHOP(Answer.HOLD),
        SAFETY_MODULE_SILENT(Answer.HOLD), SAFETY_NETWORK_FAULT(Answer.HOLD), AIR_LOSS_ABOVE_LIMIT(Answer.HOLD), RISK_ABOVE_HOLD(Answer.HOLD),
        NEVER_SEEN(Answer.UNKNOWN), EVIDENCE_TOO_OLD(Answer.UNKNOWN), OPEN_FAULT(Answer.CAUTION), NOT_RECHECKED(Answer.CAUTION),
        COMEBACK(Answer.CAUTION),
        MOVING(Answer.CAUTION), UNPROVEN_FIX(Answer.CAUTION), DRIFTING(Answer.CAUTION), AMBER_LAMP(Answer.CAUTION), MALFUNCTION_LAMP(Answer.CAUTION),
        PROTECT_LAMP(Answer.CAUTION), RISK_ABOVE_CAUTION(Answer.CAUTION);

        private final Answer weight;

        Kind(Answer weight) {
            this.weight = weight;
        }

        public Answer weight() {
            return weight;
        }

        public String word() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }
    }

    static Reason of(Kind kind, Optional<String> place, String detail, List<String> grounds, String source) {
        return new Reason(kind, kind.weight(), place, detail, List.copyOf(grounds), source);
    }
}
