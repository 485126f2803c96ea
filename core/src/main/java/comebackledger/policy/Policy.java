package comebackledger.policy;

import comebackledger.Require;

/**
 * The fleet's limits and windows. All defaults are common practice with no source unless one is named.
 *
 * @param repeatWindow within it after a claimed repair, an episode at the same place is a comeback
 * @param quietWindow without a sign for it, a suspected episode closes as quiet
 * @param evidenceMaxAgeDays older evidence answers unknown
 * @param noFaultFoundDays how far back two no-fault-found episodes raise the flag
 * @param drift the planning horizon of a drifting reading
 * @param worstShare the share of peers that offenders are picked from
 */
public record Policy(Window repeatWindow, Window quietWindow, double evidenceMaxAgeDays, double noFaultFoundDays, BusPolicy bus, AirPolicy chargeAir,
        InstrumentPolicy instruments, Drift drift, double worstShare, ReadinessPolicy readiness, Display display) {
    public static final Policy DEFAULT = new Policy(new Window(90, 16_000, 400), new Window(180, 40_000, 1000), 180, 365, BusPolicy.DEFAULT,
            AirPolicy.DEFAULT,
            InstrumentPolicy.DEFAULT, new Drift(20_000, 60), 0.05, ReadinessPolicy.DEFAULT, Display.METRIC);

    /** The planning horizon within which a drifting reading must reach its limit. */
    public record Drift(double km, double days) {
        public Drift {
            Require.that(km > 0 && km <= 1e6, "km must be above 0 and at most 1 000 000, was %s", km);
            Require.that(days > 0 && days <= 3650, "days must be above 0 and at most 3650, was %s", days);
        }
    }

    /** The units that pages and pictures show. */
    public enum Display {
        METRIC, US
    }

    /** Whether visits are judged and folded alike under both, so that what was derived under one holds under the other. */
    public boolean foldsAs(Policy other) {
        return repeatWindow.equals(other.repeatWindow) && quietWindow.equals(other.quietWindow)
                && bus.equals(other.bus) && chargeAir.judgesAs(other.chargeAir) && instruments.equals(other.instruments);
    }

    public Policy {
        Require.that(evidenceMaxAgeDays > 0 && evidenceMaxAgeDays <= 3650, "evidenceMaxAgeDays must be above 0 and at most 3650, was %s",
                evidenceMaxAgeDays);
        Require.that(noFaultFoundDays > 0 && noFaultFoundDays <= 3650, "noFaultFoundDays must be above 0 and at most 3650, was %s", noFaultFoundDays);
        Require.that(worstShare > 0 && worstShare <= 0.5, "worstShare must be above 0 and at most 0.5, was %s", worstShare);
    }
}
