package comebackledger.judge;

import java.util.List;
import java.util.Optional;

/** A suspect of a bus check: the fault's word, the part of the network, the neighbours it lies between, and its probability. */
public record SuspectFact(String fault, Optional<String> part, List<String> between, double probability) {}
