package comebackledger.air;

import comebackledger.Require;
import org.apache.commons.numbers.rootfinder.BrentSolver;

/**
 * A closed volume leaking to ambient: the effective area that takes it from one pressure to another in a time.
 * <pre>
 *   d(p/T)/dt = -(R/V) A f(p, pa, T)            f the flux of {@link OrificeFlow}, T moving evenly from T1 to T2
 *   at constant temperature                     A = V/(R T t) integral from p2 to p1 of dp/f(p)
 * </pre>
 * Near ambient f falls with the root of the drop, so the variable is s = sqrt(p - pa), in which everything is smooth.
 */
final class Decay {
    /** Nodes and weights of the eight-point Gauss-Legendre rule on -1 to 1 (Abramowitz and Stegun, table 25.4). */
    private static final double[] NODES = {0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363};
    private static final double[] WEIGHTS = {0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763};
    private static final int STEPS = 48;

    private Decay() {}

    /** One timed hold. Absolute pressures, K, m3, s. */
    record Hold(double startPa, double endPa, double seconds, double startKelvin, double endKelvin) {
        double lostPerVolume() {
            return (startPa / startKelvin - endPa / endKelvin) / OrificeFlow.AIR_J_PER_KG_K;
        }
    }

    /** The effective area, m2; negative where the mass in the volume grew, as by an error of a reading. */
    static double effectiveAreaM2(Hold hold, double volumeM3, double ambientPa) {
        Require.that(hold.startPa() > ambientPa && hold.endPa() > ambientPa, "both pressures must be above ambient, were %s and %s over %s",
                hold.startPa(),
                hold.endPa(), ambientPa);
        double middle = (hold.startKelvin() + hold.endKelvin()) / 2;
        if (hold.startKelvin() == hold.endKelvin()) {
            return volumeM3 / (OrificeFlow.AIR_J_PER_KG_K * middle * hold.seconds()) * inverseFlux(hold.endPa(), hold.startPa(), ambientPa, middle);
        }
        double scale = volumeM3 * Math.abs(hold.lostPerVolume()) / hold.seconds()
                / OrificeFlow.flux(Math.max(hold.startPa(), hold.endPa()), ambientPa, middle);
        double reach = Math.max(scale, 1e-12);
        double low = -2 * reach;
        double high = 2 * reach;
        // The end pressure falls with the area; widen until the target lies between.
        while (endRoot(hold, volumeM3, ambientPa, high) > Math.sqrt(hold.endPa() - ambientPa) && high < 1) {
            high *= 2;
        }
        while (endRoot(hold, volumeM3, ambientPa, low) < Math.sqrt(hold.endPa() - ambientPa) && low > -1) {
            low *= 2;
        }
        double target = Math.sqrt(hold.endPa() - ambientPa);
        return new BrentSolver(1e-12, reach * 1e-10, 1e-12).findRoot(area -> endRoot(hold, volumeM3, ambientPa, area) - target, low, high);
    }

    /** The absolute pressure, Pa, after a hold that began at the hold's start pressure; its end pressure is not looked at. */
    static double endPa(Hold hold, double volumeM3, double ambientPa, double effectiveAreaM2) {
        double root = Math.max(0, endRoot(hold, volumeM3, ambientPa, effectiveAreaM2));
        return ambientPa + root * root;
    }

    /** Integral of dp/f from p2 to p1 (negative if p1 is below p2), split where choking begins. */
    private static double inverseFlux(double fromPa, double toPa, double ambientPa, double kelvin) {
        double critical = ambientPa / OrificeFlow.CRITICAL_RATIO;
        double low = Math.min(fromPa, toPa);
        double high = Math.max(fromPa, toPa);
        double sum = low < critical && critical < high
                ? piece(low, critical, ambientPa, kelvin) + piece(critical, high, ambientPa, kelvin)
                : piece(low, high, ambientPa, kelvin);
        return fromPa <= toPa ? sum : -sum;
    }

    private static double piece(double lowPa, double highPa, double ambientPa, double kelvin) {
        double from = Math.sqrt(lowPa - ambientPa);
        double half = (Math.sqrt(highPa - ambientPa) - from) / 2;
        double sum = 0;
        for (int i = 0; i < NODES.length; i++) {
            for (double sign : new double[]{-1, 1}) {
                double root = from + half * (1 + sign * NODES[i]);
                sum += WEIGHTS[i] * 2 * root / OrificeFlow.flux(ambientPa + root * root, ambientPa, kelvin);
            }
        }
        return sum * half;
    }

    /** sqrt(p - pa) after the hold, by fourth-order Runge-Kutta steps; -1 once the volume is empty. */
    private static double endRoot(Hold hold, double volumeM3, double ambientPa, double area) {
        double step = hold.seconds() / STEPS;
        double root = Math.sqrt(hold.startPa() - ambientPa);
        for (int i = 0; i < STEPS; i++) {
            double t = i * step;
            double k1 = slope(hold, volumeM3, ambientPa, area, t, root);
            double k2 = slope(hold, volumeM3, ambientPa, area, t + step / 2, root + step / 2 * k1);
            double k3 = slope(hold, volumeM3, ambientPa, area, t + step / 2, root + step / 2 * k2);
            double k4 = slope(hold, volumeM3, ambientPa, area, t + step, root + step * k3);
            root += step / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
            if (!(root > 0)) {
                return -1;
            }
        }
        return root;
    }

    private static double slope(Hold hold, double volumeM3, double ambientPa, double area, double t, double root) {
        if (!(root > 0)) {
            return 0;
        }
        double drift = (hold.endKelvin() - hold.startKelvin()) / hold.seconds();
        double kelvin = hold.startKelvin() + drift * t;
        double pa = ambientPa + root * root;
        double fall = pa / kelvin * drift - OrificeFlow.AIR_J_PER_KG_K * kelvin / volumeM3 * area * OrificeFlow.flux(pa, ambientPa, kelvin);
        return fall / (2 * root);
    }
}
