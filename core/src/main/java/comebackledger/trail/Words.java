package comebackledger.trail;

import java.util.Locale;

/** Numbers as a person says them. */
public final class Words {
    private Words() {}

    public static String days(double days) {
        return days < 1.5 ? Math.max(1, Math.round(days * 24)) + " hours" : Math.round(days) + " days";
    }

    public static String percent(double share) {
        return String.format(Locale.ROOT, share < 0.1 ? "%.1f %%" : "%.0f %%", share * 100);
    }
}
