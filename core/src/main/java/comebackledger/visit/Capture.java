package comebackledger.visit;

import java.util.Optional;

/** A bus log taken in the visit. */
public record Capture(CaptureFormat format, Optional<String> network, Stage stage, String text) {}
