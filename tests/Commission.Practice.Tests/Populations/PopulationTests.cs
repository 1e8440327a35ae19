using Commission.Practice.Populations;
using Commission.Tests;

namespace Commission.Practice.Tests.Populations;

public sealed class PopulationTests
{
    private static readonly Population Population = PopulationFile.Read(Repository.Text("shared", "reference", "population.json"));

    [Fact]
    public void The_shares_of_the_file_add_up()
    {
        Assert.Equal(7, Population.Drives.Length);
        Assert.Equal(1, Population.Drives.Sum(drive => drive.Share), 1e-12);
        Assert.Equal(1, Population.Hands.Sum(hand => hand.Share), 1e-12);
        Assert.Equal(1, Population.WrongNominalFactors.Sum(factor => factor.Weight), 1e-12);
    }

    [Fact]
    public void Drawn_machines_have_the_spread_that_the_file_declares()
    {
        const int count = 4000;
        var source = new DrawSource(20261125);
        double scale = 0, square = 0;
        for (var i = 0; i < count; i++)
        {
            var draw = PopulationDraw.From(Population, source, drive: 5);
            if (draw.WrongNominal.X == 1)
                scale += draw.Machine.ScaleError(AxisName.X) * draw.Machine.ScaleError(AxisName.X);
            square += draw.Machine.SquarenessXY * draw.Machine.SquarenessXY;
        }

        // Belts: sd 1200 ppm, 95 % of machines with the right nominal; squareness sqrt((.6^2 + 2^2)/2) = 1.476 mrad. Five standard errors.
        Assert.InRange(Math.Sqrt(scale / (0.95 * count)), 1200e-6 * 0.94, 1200e-6 * 1.06);
        Assert.InRange(Math.Sqrt(square / count), 1.476e-3 * 0.92, 1.476e-3 * 1.08);
    }
}
