package comebackledger.trail;

import java.util.Locale;

/** Numbers as a person says them. */
public final class Words {
    private Words() {}

    public static String days(double days) {
        long hours = Math.max(1, Math.round(days * 24));
        return days < 1.5 ? hours + (hours == 1 ? " hour" : " hours") : Math.round(days) + " days";
    }

    /** A probability: nothing is told as certain that is not. */
    public static String chance(double probability) {
        return probability > 0.995 && probability < 1 ? "above 99 %" : probability > 0 && probability < 0.0005 ? "below 0.1 %" : percent(probability);
    }

    public static String percent(double share) {
        return String.format(Locale.ROOT, share < 0.1 ? "%.1f %%" : "%.0f %%", share * 100);
    }
}
