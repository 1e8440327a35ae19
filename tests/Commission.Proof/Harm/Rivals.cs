namespace Commission.Proof.Harm;

/// <summary>What people do today, carried out faithfully: one reading, a mean of three, a line through five, again and again.</summary>
/// <remarks>
/// Written once and not tuned. A ratio that is wrong by a fifth or more (microsteps, another lead) is found by everybody at the first move
/// and put right exactly, which flatters the rivals.
/// </remarks>
internal static class Rivals
{
    private const double MoveMm = 100;

    /// <summary>Leaves the machine as it was built.</summary>
    public static void Leave(Scene scene) => scene.ExtraMinutes = 0;

    /// <summary>One reading over 100 mm for each axis, one reversal reading, one pair of tape diagonals; each corrected in full.</summary>
    public static void OneReading(Scene scene) => InTurn(scene, axis => MoveOnce(scene, axis), 1, () => TapeDiagonals(scene, 1));

    /// <summary>The same with the mean of three readings everywhere.</summary>
    public static void MeanOfThree(Scene scene) => InTurn(
        scene,
        axis =>
        {
            var window = scene.NewWindow();
            return Enumerable.Range(0, 3).Average(_ => MoveOnce(scene, axis, window));
        },
        3,
        () => TapeDiagonals(scene, 3));

    /// <summary>A straight line through five readings at 0, 25, 50, 75, 100 mm.</summary>
    public static void LineThroughFive(Scene scene) => InTurn(scene, axis => SlopeOfFive(scene, axis), 1, () => TapeDiagonals(scene, 1));

    /// <summary>Measures and corrects three times, and squares by one 3-4-5 diagonal.</summary>
    public static void Iterate(Scene scene) => InTurn(scene, axis => MoveOnce(scene, axis), 1, () => ThreeFourFive(scene), rounds: 3);

    // Axis by axis the scale and then the lost motion, each corrected in full as it was read; the corner last.
    private static void InTurn(Scene scene, Func<AxisName, double> scale, int reversals, Func<double> corner, int rounds = 1)
    {
        foreach (var axis in PlaneAxes)
        {
            MendGrossRatio(scene, axis);
            for (var round = 0; round < rounds; round++)
            {
                scene.SetUp();
                scene.CorrectScale(axis, scale(axis));
                scene.SetUp();
                scene.Compensate(axis, LostMotionOnce(scene, axis, reversals));
            }
        }

        scene.SetUp();
        scene.Square(corner());
    }

    public static IReadOnlyList<AxisName> PlaneAxes { get; } = [AxisName.X, AxisName.Y];

    public static void MendGrossRatio(Scene scene, AxisName axis)
    {
        var factor = axis == AxisName.X ? scene.Draw.WrongNominal.X : scene.Draw.WrongNominal.Y;
        if (Math.Abs(factor - 1) > 0.2)
            scene.CorrectScale(axis, factor - 1);
    }

    /// <summary>Caliper placed and zeroed, the axis sent 100 mm on, caliper placed and read: two placings.</summary>
    private static double MoveOnce(Scene scene, AxisName axis, double? window = null)
    {
        var start = scene.Chance.NextUniform(50, 350);
        var scale = window ?? scene.NewWindow();
        var takenUp = scene.Chance.NextChance(scene.Operator.Hand.TakesUpLostMotion);
        var first = 20 + scene.Stand(axis, start, takenUp ? 1 : scene.Chance.NextSign(), start, scale);
        var second = 20 + scene.Stand(axis, start + MoveMm, scene.From(1), start, scale);
        var (gap, far) = (20.0, 20 + second - first);
        var zero = scene.ReadCaliper(gap, gap);
        return (scene.ReadCaliper(far, zero + MoveMm) - zero - MoveMm) / MoveMm;
    }

    /// <summary>One place reached from both sides and read with the caliper.</summary>
    private static double LostMotionOnce(Scene scene, AxisName axis, int repeats)
    {
        var place = scene.Chance.NextUniform(100, 300);
        var start = scene.Stand(axis, place, scene.From(1), place, 0);
        var zero = scene.ReadCaliper(50, 50);
        var back = Enumerable.Range(0, repeats)
            .Average(_ => scene.ReadCaliper(50 + scene.Stand(axis, place, scene.From(-1), place, 0) - start, zero));
        return back - zero;
    }

    private static double SlopeOfFive(Scene scene, AxisName axis)
    {
        var start = scene.Chance.NextUniform(50, 350);
        var window = scene.NewWindow();
        var takenUp = scene.Chance.NextChance(scene.Operator.Hand.TakesUpLostMotion);
        double sumXY = 0, sumXX = 0, origin = 0;
        for (var i = 0; i < 5; i++)
        {
            var from = i == 0 ? takenUp ? 1 : scene.Chance.NextSign() : scene.From(1);
            var place = scene.Stand(axis, start + (25 * i), from, start, window);
            if (i == 0)
                origin = place;
            var reading = scene.ReadCaliper(20 + place - origin, 20 + (25 * i));
            var centred = (25.0 * i) - 50;
            sumXY += centred * reading;
            sumXX += centred * centred;
        }

        return (sumXY / sumXX) - 1;
    }

    /// <summary>Four marks of the work area and two diagonals by tape; positive where the one from the origin is longer.</summary>
    private static double TapeDiagonals(Scene scene, int repeats)
    {
        const double a = 400, b = 500;
        var diagonal = Math.Sqrt((a * a) + (b * b));
        var marks = new[] { (0.0, 0.0), (a, 0.0), (a, b), (0.0, b) }.Select(corner =>
            scene.Mark(corner.Item1, corner.Item2, ApproachOfMark(scene), ApproachOfMark(scene))).ToArray();
        double first = 0, second = 0;
        for (var i = 0; i < repeats; i++)
        {
            first += scene.ReadTape(marks[0].DistanceTo(marks[2]), diagonal) / repeats;
            second += scene.ReadTape(marks[1].DistanceTo(marks[3]), diagonal) / repeats;
        }

        return ((first * first) - (second * second)) / (4 * a * b);
    }

    /// <summary>Sides as commanded, one diagonal from the hook.</summary>
    private static double ThreeFourFive(Scene scene)
    {
        const double a = 300, b = 400;
        var origin = scene.Mark(0, 0, ApproachOfMark(scene), ApproachOfMark(scene));
        var corner = scene.Mark(a, b, ApproachOfMark(scene), ApproachOfMark(scene));
        var reading = scene.ReadTape(origin.DistanceTo(corner), 500, fromHook: true);
        return ((reading * reading) - (a * a) - (b * b)) / (2 * a * b);
    }

    private static int ApproachOfMark(Scene scene) =>
        scene.Chance.NextChance(scene.Operator.Hand.TakesUpLostMotion) ? 1 : scene.Chance.NextSign();
}
