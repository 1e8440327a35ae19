using Commission.Practice.Draws;
using Commission.Practice.Instruments;
using Commission.Practice.Machines;
using Commission.Practice.Operators;
using Commission.Practice.Populations;

namespace Commission.Proof.Harm;

/// <summary>One machine of the population on its owner's bench, with what the strategy has cost so far.</summary>
/// <remarks>Time: 3 min for each set-up and half a minute for each reading, the same for everybody; invented, plausible.</remarks>
internal sealed class Scene
{
    private readonly Population _population;
    private readonly DrawSource _chance;
    private int _setUps;

    public Scene(Population population, DrawSource source, int? drive = null, int? hand = null)
    {
        _population = population;
        Draw = PopulationDraw.From(population, source.For("machine"), drive, hand);
        Machine = Draw.Machine;
        _chance = source.For("scatter");
        Operator = new PracticeOperator(Draw.Hand, population.Slips, source.For("hand"));
    }

    public PopulationDraw Draw { get; }

    public PracticeMachine Machine { get; private set; }

    public PracticeOperator Operator { get; }

    public DrawSource Chance => _chance;

    public int Readings { get; private set; }

    public double Minutes => (3 * _setUps) + (0.5 * Readings) + ExtraMinutes;

    /// <summary>Standard deviation between drilled holes, mm.</summary>
    public double HoleScatterMm => _population.HoleScatterMm;

    public double ExtraMinutes { get; set; }

    public double Score => Machine.CornerErrorMm(_population.WorkAreaMm.X, _population.WorkAreaMm.Y);

    public void SetUp() => _setUps++;

    /// <summary>Scale of this window against that of the axis; drawn once for each window that is measured.</summary>
    public double NewWindow() => Draw.Drive.WindowScatterPpm.Draw(_chance) * 1e-6;

    /// <summary>Where an axis stands. The window's own scale acts from the window's start.</summary>
    public double Stand(AxisName axis, double commanded, int from, double windowStart, double window) =>
        Machine.AxisPosition(axis, commanded, from) + (window * (commanded - windowStart));

    /// <summary>Whether the person comes in from the other side without noticing.</summary>
    public int From(int wanted) => _chance.NextChance(Operator.Hand.SlipRate) ? -wanted : wanted;

    /// <summary>A caliper reading; a gross deviation from what was expected may be noticed, and is then read again.</summary>
    public double ReadCaliper(double length, double? expected = null, Faces faces = Faces.Inner)
    {
        Readings++;
        var value = Operator.Caliper(Draw.Caliper, length, faces);
        if (expected is not { } hoped || !Notices(value - hoped))
            return value;
        Readings++;
        return Operator.Caliper(Draw.Caliper, length, faces);
    }

    public double ReadTape(double length, double expected, bool fromHook = false)
    {
        Readings++;
        var value = Operator.Tape(Draw.Tape, length, fromHook);
        if (!Notices(value - expected - 1)) // a tape is believed to a millimetre or so
            return value;
        Readings++;
        return Operator.Tape(Draw.Tape, length, fromHook);
    }

    public void CorrectScale(AxisName axis, double estimate) =>
        Set(Machine.Settings.WithSteps(axis, Machine.Settings.StepsPerMm[(int)axis] / (1 + estimate)));

    /// <summary>Adds to the compensation; a controller takes no negative one.</summary>
    public void Compensate(AxisName axis, double lostMotion) =>
        Set(Machine.Settings.WithCompensation(axis, Math.Max(0, Machine.Settings.CompensationMm[(int)axis] + lostMotion)));

    /// <summary>Turns the gantry back by an angle; carried out exactly.</summary>
    public void Square(double estimate) => Set(Machine.Settings with
    {
        GantryOffsetMm = Machine.Settings.GantryOffsetMm + (estimate * Machine.State.DriveWidthMm),
    });

    /// <summary>A mark drilled at a commanded place.</summary>
    public RealPoint Mark(double x, double y, int fromX, int fromY)
    {
        var point = Machine.Point(new Target(x, y, 0, fromX, fromY));
        return new RealPoint(
            point.X + (Draw.MarkScatterMm * _chance.NextNormal()), point.Y + (Draw.MarkScatterMm * _chance.NextNormal()), 0);
    }

    private void Set(PracticeSettings settings) => Machine = Machine with { Settings = settings };

    private bool Notices(double deviation) =>
        Math.Abs(deviation) > _population.Slips.NoticedBeyondMm && _chance.NextChance(_population.Slips.NoticedProbability);
}
