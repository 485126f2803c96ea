package comebackledger.judge;

import comebackledger.measure.MeterReading;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * All that the fold needs of one visit; made from that visit, the build and the policy alone.
 *
 * @param odometer km
 * @param engineHours h
 * @param supplies one for each stage in which the supply was measured
 * @param lamps as last reported in the visit
 * @param declaredOutOfService declared, and the required repairs not completed; false where it was lifted; empty where nothing was said
 * @param defectsReported how many the driver's report lists; empty without a report
 */
public record VisitFacts(String visit, Instant arrivedAt, Optional<Instant> releasedAt, MeterReading odometer, MeterReading engineHours,
        List<CodeFact> codes, boolean codesCleared, List<BusFact> busChecks, List<AirFact> airTests, List<SupplyFact> supplies,
        List<RepairFact> repairs, LampFact lamps, Optional<Boolean> declaredOutOfService, Optional<Integer> defectsReported,
        boolean defectsCertified) {
    /** Whether the supply was too low in that stage, so that roll calls, voltages and communication codes say nothing. */
    public boolean supplyLow() {
        return !supplies.isEmpty() && supplies.stream().anyMatch(SupplyFact::low);
    }
}
