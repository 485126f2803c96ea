package comebackledger.storage;

/** A visit by its whole key within the fleet. */
record VisitName(String unit, String visit) {}
