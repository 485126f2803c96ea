package comebackledger.bus;

/**
 * What a piece of the network is, seen from one cross-section of the trunk: conductances (siemens) between the terminals high, low, ground and
 * positive cable, and with the power on the currents (ampere) that the biasing modules drive into the lines.
 *
 * <p>Growing the piece by a length of wire eliminates one node of each line by the star-mesh transformation, which is Gaussian elimination
 * of the nodal equations written without a subtraction:
 * <pre>
 *   a new node h' behind r ohm from h, s = sum of h's other conductances
 *   g(h',x) = g(h,x) / (1 + r s)      g(x,y) grows by g(h,x) g(h,y) r / (1 + r s)      i(h') = i(h) / (1 + r s)
 * </pre>
 * With r without end the line is broken: h' touches nothing and h becomes a star between its neighbours.
 */
final class Mesh {
    static final double OPEN = Double.POSITIVE_INFINITY;
    /** A dead short still is a contact; 1 microohm keeps the arithmetic finite and no meter sees it. */
    private static final double LEAST_OHM = 1e-6;
    /** A path weaker than this (50 Mohm) is beyond a meter's range: the wire's definition of open. */
    static final double OPEN_ABOVE_OHM = 50e6;

    double highLow;
    double highGround;
    double lowGround;
    double highSupply;
    double lowSupply;
    double supplyGround;
    double highAmpere;
    double lowAmpere;

    static double siemens(double ohm) {
        return 1 / Math.max(ohm, LEAST_OHM);
    }

    Mesh set(Mesh other) {
        highLow = other.highLow;
        highGround = other.highGround;
        lowGround = other.lowGround;
        highSupply = other.highSupply;
        lowSupply = other.lowSupply;
        supplyGround = other.supplyGround;
        highAmpere = other.highAmpere;
        lowAmpere = other.lowAmpere;
        return this;
    }

    Mesh copy() {
        return new Mesh().set(this);
    }

    /** Beside each other. */
    Mesh join(Mesh other) {
        highLow += other.highLow;
        highGround += other.highGround;
        lowGround += other.lowGround;
        highSupply += other.highSupply;
        lowSupply += other.lowSupply;
        supplyGround += other.supplyGround;
        highAmpere += other.highAmpere;
        lowAmpere += other.lowAmpere;
        return this;
    }

    /** Behind a length of wire or a joint in each line; {@link #OPEN} breaks it. */
    Mesh behind(double highOhm, double lowOhm) {
        if (highOhm > 0) {
            double sum = highLow + highGround + highSupply;
            double keep = highOhm == OPEN ? 0 : 1 / (1 + highOhm * sum);
            double pass = highOhm == OPEN ? sum > 0 ? 1 / sum : 0 : highOhm * keep;
            lowGround += highLow * highGround * pass;
            lowSupply += highLow * highSupply * pass;
            supplyGround += highGround * highSupply * pass;
            lowAmpere += highAmpere * highLow * pass;
            highLow *= keep;
            highGround *= keep;
            highSupply *= keep;
            highAmpere *= keep;
        }
        if (lowOhm > 0) {
            double sum = highLow + lowGround + lowSupply;
            double keep = lowOhm == OPEN ? 0 : 1 / (1 + lowOhm * sum);
            double pass = lowOhm == OPEN ? sum > 0 ? 1 / sum : 0 : lowOhm * keep;
            highGround += highLow * lowGround * pass;
            highSupply += highLow * lowSupply * pass;
            supplyGround += lowGround * lowSupply * pass;
            highAmpere += lowAmpere * highLow * pass;
            highLow *= keep;
            lowGround *= keep;
            lowSupply *= keep;
            lowAmpere *= keep;
        }
        return this;
    }

    double highLowOhm() {
        double star = highSupply + lowSupply + supplyGround;
        double hl = highLow + over(highSupply * lowSupply, star);
        double hg = highGround + over(highSupply * supplyGround, star);
        double lg = lowGround + over(lowSupply * supplyGround, star);
        return ohm(hl + over(hg * lg, hg + lg));
    }

    double highGroundOhm() {
        return toGround(highLow, highGround, lowGround, highSupply, lowSupply);
    }

    double lowGroundOhm() {
        return toGround(highLow, lowGround, highGround, lowSupply, highSupply);
    }

    /** To the disconnected positive cable: the cable and ground change places. */
    double highSupplyOhm() {
        return toGround(highLow, highSupply, lowSupply, highGround, lowGround);
    }

    double lowSupplyOhm() {
        return toGround(highLow, lowSupply, highSupply, lowGround, highGround);
    }

    private double toGround(double between, double ownGround, double otherGround, double ownSupply, double otherSupply) {
        double star = ownSupply + otherSupply + supplyGround;
        double hl = between + over(ownSupply * otherSupply, star);
        double hg = ownGround + over(ownSupply * supplyGround, star);
        double lg = otherGround + over(otherSupply * supplyGround, star);
        return ohm(hg + over(hl * lg, hl + lg));
    }

    private static double over(double product, double sum) {
        return sum > 0 ? product / sum : 0;
    }

    private static double ohm(double siemens) {
        return siemens * OPEN_ABOVE_OHM < 1 ? OPEN : 1 / siemens;
    }

    /** The high line's volts; NaN where nothing drives it. */
    double highVolt() {
        return volt(highGround, lowGround, highAmpere, lowAmpere);
    }

    /** The low line's volts; NaN where nothing drives it. */
    double lowVolt() {
        return volt(lowGround, highGround, lowAmpere, highAmpere);
    }

    private double volt(double ownGround, double otherGround, double ownAmpere, double otherAmpere) {
        double determinant = ownGround * otherGround + highLow * (ownGround + otherGround);
        return determinant > 0
                ? (ownAmpere * (otherGround + highLow) + highLow * otherAmpere) / determinant
                : ownGround > 0
                        ? ownAmpere / ownGround
                        : Double.NaN;
    }
}
