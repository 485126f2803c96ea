package comebackledger.bus;

import java.util.List;

/**
 * What stands in for the unknown parts of a build, and how far the known parts are off their nominal value in one trial.
 *
 * @param metres of a trunk of unknown length
 * @param wireOhmPerMetre of unknown wire
 * @param hiddenInputs modules on a trunk of which nobody told them all
 * @param differentialOhm of an input that the build does not tell; without end: none
 * @param lineToGroundOhm of an input that the build does not tell; without end: none
 * @param inputFactor on the conductance of every module's input
 * @param inputTilt share by which inputs at terminator a conduct better, and those at terminator b worse
 * @param terminatorFactor on every terminator, by its number; shorter than the list: 1
 * @param wireFactor on the resistance of the wire
 * @param supplyFactor on the voltage of the positive cable
 */
record Assumed(double metres, double wireOhmPerMetre, double hiddenInputs, double differentialOhm, double lineToGroundOhm, double inputFactor,
        double inputTilt,
        List<Double> terminatorFactor, double wireFactor, double supplyFactor) {

    /** The build as it is told; what it does not tell is left out, so an unknown wire is ideal and an unknown input is none. */
    static final Assumed NOTHING = new Assumed(20, 0, 0, Mesh.OPEN, Mesh.OPEN, 1, 0, List.of(), 1, 1);

    double terminatorFactor(int number) {
        return number < terminatorFactor.size() ? terminatorFactor.get(number) : 1;
    }

    Assumed withInputFactor(double factor) {
        return new Assumed(metres, wireOhmPerMetre, hiddenInputs, differentialOhm, lineToGroundOhm, factor, inputTilt, terminatorFactor, wireFactor,
                supplyFactor);
    }

    Assumed withInputTilt(double tilt) {
        return new Assumed(metres, wireOhmPerMetre, hiddenInputs, differentialOhm, lineToGroundOhm, inputFactor, tilt, terminatorFactor, wireFactor,
                supplyFactor);
    }

    Assumed withWireFactor(double factor) {
        return new Assumed(metres, wireOhmPerMetre, hiddenInputs, differentialOhm, lineToGroundOhm, inputFactor, inputTilt, terminatorFactor, factor,
                supplyFactor);
    }

    Assumed withSupplyFactor(double factor) {
        return new Assumed(metres, wireOhmPerMetre, hiddenInputs, differentialOhm, lineToGroundOhm, inputFactor, inputTilt, terminatorFactor,
                wireFactor,
                factor);
    }

    Assumed withTerminatorFactors(List<Double> factors) {
        return new Assumed(metres, wireOhmPerMetre, hiddenInputs, differentialOhm, lineToGroundOhm, inputFactor, inputTilt, factors, wireFactor,
                supplyFactor);
    }
}
