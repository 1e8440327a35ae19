using Commission.Core.Procedures;
using Commission.Tests;
using Commission.Workshop.Screens;
using Commission.Workshop.Screens.Sheets;

namespace Commission.Workshop.Tests.Screens.Sheets;

public sealed class PlaceNameLargeTests
{
    private const int Room = 76;

    [Theory]
    [InlineData("far", "far")]
    [InlineData("mark A", "mark A")]
    [InlineData("corner NE", "corner NE")]
    [InlineData("X 341.981", "X 341.981")]
    [InlineData("mark A to mark B", "A-B")]
    [InlineData("270 degrees", "270")]
    [InlineData("outside 100 mm along X", "OUT 100 X")]
    [InlineData("X +50 mm from the middle, arm locked", "X +50")]
    [InlineData("diameter at 45 degrees, circle cut counter-clockwise", "45 CCW")]
    public void A_place_is_shown_large_by_what_tells_it_apart(string place, string large) => Assert.Equal(large, PlaceName.Large(place, Room));

    [Fact]
    public void Every_named_place_of_the_shipped_procedures_stands_in_large_figures()
    {
        var places = ShippedProcedures.Ids.SelectMany(id => ShippedProcedures.Read(id).AllSteps.OfType<Step.Read>()).Select(read => read.Grid).OfType<Grid.Objects>().SelectMany(grid => grid.Things).Select(thing => thing.Name).Distinct().ToArray();
        Assert.True(places.Length > 20);
        Assert.All(places, place => Assert.All(BlockDigits.Of(PlaceName.Large(place, Room)), row => Assert.InRange(row.Length, 1, Room)));
    }
}
