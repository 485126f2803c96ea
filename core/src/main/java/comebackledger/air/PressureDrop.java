package comebackledger.air;

import comebackledger.Require;

/** The air on both sides of an opening; absolute pressures. */
public record PressureDrop(double upstreamPa, double downstreamPa, double upstreamKelvin) {
    public PressureDrop {
        Require.that(upstreamPa > 0 && upstreamPa <= 5e6, "upstreamPa must be above 0 and at most 5 MPa (ideal gas), was %s", upstreamPa);
        Require.that(downstreamPa >= 0 && downstreamPa <= upstreamPa, "downstreamPa must be from 0 to %s, was %s", upstreamPa, downstreamPa);
        Require.that(upstreamKelvin >= 200 && upstreamKelvin <= 600,
                "upstreamKelvin must be from 200 to 600 (constant ratio of specific heats), was %s",
                upstreamKelvin);
    }

    /** Whether the flow in the throat is at the speed of sound. */
    public boolean choked() {
        return downstreamPa <= OrificeFlow.CRITICAL_RATIO * upstreamPa;
    }
}
