package comebackledger.bus;

/** The lower root of a small covariance matrix. */
final class Cholesky {
    private final double[][] root;

    private Cholesky(double[][] root) {
        this.root = root;
    }

    static Cholesky of(double[][] matrix) {
        int n = matrix.length;
        double[][] root = new double[n][n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                double sum = matrix[i][j];
                for (int k = 0; k < j; k++) {
                    sum -= root[i][k] * root[j][k];
                }
                root[i][j] = i == j ? Math.sqrt(Math.max(sum, 1e-12)) : sum / root[j][j];
            }
        }
        return new Cholesky(root);
    }

    /** x with root x = right. */
    double[] solve(double[] right) {
        double[] found = new double[right.length];
        for (int i = 0; i < found.length; i++) {
            double sum = right[i];
            for (int k = 0; k < i; k++) {
                sum -= root[i][k] * found[k];
            }
            found[i] = sum / root[i][i];
        }
        return found;
    }

    /** Of the root: half of the matrix's. */
    double logDeterminant() {
        double sum = 0;
        for (int i = 0; i < root.length; i++) {
            sum += Math.log(root[i][i]);
        }
        return sum;
    }
}
