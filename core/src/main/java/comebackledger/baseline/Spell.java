package comebackledger.baseline;

/**
 * How long one repair was watched.
 *
 * @param stratum the kind of repair: kind of system, action, and whether it repaired a return
 * @param returned the watch ended with an episode on the same place
 * @param standing the watch goes on: neither a return nor a later repair ended it
 */
record Spell(String stratum, double length, boolean returned, boolean standing) {}
