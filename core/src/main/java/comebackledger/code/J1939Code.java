package comebackledger.code;

import comebackledger.Require;
import java.util.List;
import java.util.OptionalInt;
import java.util.stream.Collectors;

/**
 * A code of SAE J1939-73: the parameter under suspicion and how it fails.
 *
 * @param spn the suspect parameter number, where it is certain
 * @param spnCandidates the numbers it may be, ascending, where the sender's conversion method is not known; else empty
 * @param fmi the failure mode
 */
public record J1939Code(OptionalInt spn, List<Integer> spnCandidates, int fmi) implements TroubleCode {
    /** 19 bits (SAE J1939-73). */
    public static final int MAX_SPN = 0x7FFFF;
    /** 5 bits (SAE J1939-73). */
    public static final int MAX_FMI = 31;

    public J1939Code {
        Require.that(spn.isPresent() == spnCandidates.isEmpty(), "a code has either spn or spnCandidates");
        Require.that(spn.isEmpty() || spn.getAsInt() >= 0 && spn.getAsInt() <= MAX_SPN, "spn must be from 0 to 524287");
        Require.that(fmi >= 0 && fmi <= MAX_FMI, "fmi must be from 0 to 31, was %s", fmi);
        spnCandidates = List.copyOf(spnCandidates);
    }

    public static J1939Code of(int spn, int fmi) {
        return new J1939Code(OptionalInt.of(spn), List.of(), fmi);
    }

    @Override
    public String text() {
        String number = spn.isPresent()
                ? Integer.toString(spn.getAsInt())
                : spnCandidates.stream().map(String::valueOf).collect(Collectors.joining(" or "));
        return "SPN " + number + " FMI " + fmi;
    }
}
