package comebackledger.bus;

/**
 * How each probe's reading depends on the one free resistance of a suspicion.
 *
 * <p>In a linear network every reading is a broken linear function of any one resistance, so three solutions give it everywhere:
 * <pre>
 *   R(r) = (R(0) + k r R(∞)) / (1 + k r)        k from the reading at one resistance between
 * </pre>
 * Where the same resistance sits in both lines this is an approximation, exact in the wire's own symmetry.
 */
final class Curve {
    /** Near the middle of what a bus meter reads. */
    static final double MIDDLE_OHM = 60;

    private final double[] dead;
    private final double[] open;
    /** k of the formula; or, where the reading grows without end, ohm per ohm. */
    private final double[] slope;

    Curve(double[] dead, double[] middle, double[] open) {
        this.dead = dead;
        this.open = open;
        this.slope = new double[dead.length];
        for (int i = 0; i < dead.length; i++) {
            slope[i] = slope(dead[i], middle[i], open[i]);
        }
    }

    private static double slope(double dead, double middle, double open) {
        if (Double.isInfinite(dead) || Double.isInfinite(middle)) {
            return Mesh.OPEN;
        }
        if (Double.isInfinite(open)) {
            return (middle - dead) / MIDDLE_OHM;
        }
        double rest = open - middle;
        return Math.abs(rest) < 1e-12 ? 0 : (middle - dead) / (rest * MIDDLE_OHM);
    }

    double at(int probe, double ohm) {
        double k = slope[probe];
        if (Double.isInfinite(open[probe])) {
            return k == Mesh.OPEN ? Mesh.OPEN : dead[probe] + k * ohm;
        }
        if (Double.isInfinite(ohm)) {
            return open[probe];
        }
        return k == Mesh.OPEN ? Mesh.OPEN : (dead[probe] + k * ohm * open[probe]) / (1 + k * ohm);
    }
}
