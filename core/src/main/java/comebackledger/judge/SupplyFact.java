package comebackledger.judge;

import comebackledger.visit.Stage;

/** The vehicle's supply voltage in one stage of a visit, against the policy's limit. */
public record SupplyFact(Stage stage, double volts, boolean low, String pointer) {}
