package comebackledger.visit;

import comebackledger.Require;
import java.time.Instant;
import java.util.List;
import java.util.Optional;

/**
 * One stay in a shop, by work-order reference.
 *
 * @param voided withdrawn: kept in the history, and counts as if never made
 * @param lamps what the dash showed on arrival
 * @param lampsAtRelease what it showed on leaving
 */
public record Visit(String id, Instant arrivedAt, Optional<Instant> releasedAt, boolean voided, Meters meters, Optional<String> complaint,
        List<CodeEntry> codes, List<Capture> captures, boolean codesCleared, Optional<Lamps> lamps, Optional<Lamps> lampsAtRelease,
        Optional<String> shop,
        List<BusCheck> busChecks, List<ChargeAirTest> chargeAirTests, List<Repair> repairs, Optional<OutOfService> outOfService,
        Optional<DriverReport> driverReport, Optional<String> note) {
    public Visit {
        Require.that(releasedAt.isEmpty() || !releasedAt.get().isBefore(arrivedAt), "releasedAt must not be before arrivedAt");
        codes = List.copyOf(codes);
        captures = List.copyOf(captures);
        busChecks = List.copyOf(busChecks);
        chargeAirTests = List.copyOf(chargeAirTests);
        repairs = List.copyOf(repairs);
    }
}
