package comebackledger.baseline;

import java.util.Arrays;

/** Events over exposure of some units; those without exposure are left out. */
final class Counts {
    private double[] events = new double[16];
    private double[] exposures = new double[16];
    private int units;
    private double allEvents;
    private double allExposure;

    void add(double unitEvents, double unitExposure) {
        if (!(unitExposure > 0)) {
            return;
        }
        if (units == events.length) {
            events = Arrays.copyOf(events, units * 2);
            exposures = Arrays.copyOf(exposures, units * 2);
        }
        events[units] = unitEvents;
        exposures[units++] = unitExposure;
        allEvents += unitEvents;
        allExposure += unitExposure;
    }

    int units() {
        return units;
    }

    double events() {
        return allEvents;
    }

    double exposure() {
        return allExposure;
    }

    double[] eventsByUnit() {
        return Arrays.copyOf(events, units);
    }

    double[] exposureByUnit() {
        return Arrays.copyOf(exposures, units);
    }

    boolean enough() {
        return units >= PeerRate.UNITS_ENOUGH && allEvents >= PeerRate.EVENTS_ENOUGH;
    }
}
