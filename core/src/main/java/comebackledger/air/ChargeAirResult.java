package comebackledger.air;

import comebackledger.measure.Measured;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What a charge-air test says.
 *
 * @param undefined why a figure is left out; empty where nothing is missing
 * @param grounds of the verdict: what is compared with which limit, and whether the 95 % interval holds the limit
 * @param massFlowKgPerS through the leak at the test pressure; the average over a hold-down
 * @param effectiveAreaMm2 discharge coefficient times hole area, the background taken off
 * @param orificeMm the single round hole at the stated discharge coefficient
 * @param orificeLimitMm the hole that loses the share allowed, where the engine is known
 * @param storedEnergyJ isentropic expansion of the test volume to ambient
 */
public record ChargeAirResult(Verdict verdict, Optional<String> undefined, Optional<Regime> regime, Optional<Measured> massFlowKgPerS,
        Optional<Measured> effectiveAreaMm2, Optional<Measured> orificeMm, Optional<Measured> sonicConductanceM3PerSPa,
        Optional<AtRatedBoost> atRatedBoost,
        OptionalDouble orificeLimitMm, OptionalDouble storedEnergyJ, Optional<String> grounds, List<String> cautions) {

    static ChargeAirResult unsized(Verdict verdict, Optional<String> undefined, OptionalDouble storedEnergyJ, List<String> cautions) {
        return new ChargeAirResult(verdict, undefined, Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty(),
                Optional.empty(), OptionalDouble.empty(), storedEnergyJ, Optional.empty(), cautions);
    }

    /** Against the limit. */
    public enum Verdict {
        WITHIN("within"), OUTSIDE("outside"), INVALID("invalid"), UNJUDGED("unjudged");

        private final String word;

        Verdict(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    /** Of the flow through the leak at the test pressure. */
    public enum Regime {
        CHOKED("choked"), SUBSONIC("subsonic");

        private final String word;

        Regime(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    /** The same leak at rated boost; the share is of the air the engine takes there. */
    public record AtRatedBoost(Measured massFlowKgPerS, Measured freeAirLitresPerMinute, Optional<Measured> shareOfEngineAir) {}
}
