package comebackledger.code;

/** A trouble code of one of the two families that a shop meets. */
public sealed interface TroubleCode permits J2012Code, J1939Code {
    /** As a technician writes it: {@code U0121-87}, {@code SPN 639 FMI 9}. */
    String text();
}
