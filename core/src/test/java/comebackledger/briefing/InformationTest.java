package comebackledger.briefing;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

class InformationTest {
    /** A symmetric channel with error e carries 1 - H(e) bits of a fair coin; H(0.11) = 0.4999 (own calculation from the definition). */
    @Test
    void bits_ofATestThatErrs_areThoseOfASymmetricChannel() {
        assertEquals(0.50008, Information.bits(0.5, 0.89, 0.11), 0.00001);
    }

    /** A sure test tells all there is, H(0.25) = 2 - 0.75 log2 3; one that shows the same either way tells nothing. */
    @Test
    void bits_ofASureTestAndOfAUselessOne_areAllAndNone() {
        assertEquals(2 - 0.75 * Math.log(3) / Math.log(2), Information.bits(0.25, 1, 0), 1e-12);
        assertEquals(0, Information.bits(0.25, 0.6, 0.6), 1e-12);
    }

    /** Four places alike and a test that shows which: two bits. */
    @Test
    void bits_ofFourPlacesAlike_areTwo() {
        double[][] shows = {{1, 0, 0, 0}, {0, 1, 0, 0}, {0, 0, 1, 0}, {0, 0, 0, 1}};

        assertEquals(2, Information.bits(new double[]{0.25, 0.25, 0.25, 0.25}, shows), 1e-12);
    }
}
